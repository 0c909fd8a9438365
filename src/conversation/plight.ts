/** An event that cannot be handled, what is known without opening anything, and the texts that it gets. */

import type { TextKey } from '../generated/text-keys.ts';
import { foldToGsm7 } from '../text/gsm7.ts';
import { screensOf } from '../text/screens.ts';
import { canBeDialled, shownNumber } from './channel-facts.ts';
import type { Lane, RosterChange, Said } from './effect.ts';
import type { Due, LineEvent } from './event.ts';
import { receiversOf } from './people.ts';
import { durationOf, type Programme, siteOf } from './programme.ts';
import type { Texts } from './texts.ts';
import type { Address, Person } from './world.ts';

/** What open columns say around an event; nothing sealed is read for it. */
export interface Bare {
  /** Whose phone a text came from, or whose conversation a due row is for; null = nobody's that is known. */
  readonly person: Pick<Person, 'id' | 'siteId' | 'locale' | 'state'> | null;
  /** Who is with the patient: who asked the question or carries the case; null = no such thing. */
  readonly clinic: { readonly personId: string; readonly siteId: string | null } | null;
  /** An open alarm hangs on a due row. */
  readonly alarm: boolean;
  /** Events that wait for a human already. */
  readonly parked: number;
}

export interface Plight {
  readonly programme: Programme;
  readonly texts: Texts;
  /** Empty when not even that can be read. */
  readonly roster: readonly Person[];
  readonly event: LineEvent;
  readonly bare: Bare;
  /** Which of `quietKeys` were taken before. */
  readonly taken: ReadonlySet<string>;
}

/** Pauses between two texts of one kind, ms. Our convention. */
const quietMs = { answer: 5 * 60_000, alarm: 2 * 60_000, told: 10 * 60_000 } as const;
type Quiet = keyof typeof quietMs;

function quietKey(kind: Quiet, who: string, at: number, back: 0 | 1): string {
  return `quiet:${kind}:${who}:${Math.floor(at / quietMs[kind]) - back}`;
}

/** Everybody's: the coordinators are told of all that cannot be handled together. */
const everything = '-';

/** Keys that say, once taken, what this event need not say again yet. */
export function quietKeys(event: LineEvent): readonly string[] {
  const who = event.kind === 'due' ? `due:${event.due.personId ?? everything}` : phoneOf(event.from);
  const pairs: readonly (readonly [Quiet, string])[] = [
    ['answer', who],
    ['alarm', who],
    ['told', everything],
  ];
  return pairs.flatMap(([kind, of]) => [quietKey(kind, of, event.at, 0), quietKey(kind, of, event.at, 1)]);
}

function phoneOf({ channel, address }: Address): string {
  return `${channel}:${address}`;
}

/** Somebody to be written to, as far as they are known. */
export interface Reached {
  readonly id: string | null;
  readonly name: string;
  readonly site: string;
  /** Null where nobody knows it. */
  readonly siteId: string | null;
  readonly locale: string;
  readonly to: Address | null;
  /** A number that can be dialled. */
  readonly number: string | null;
}

/** What comes of the event, in the making. */
export class Aside {
  readonly plight: Plight;
  readonly people: RosterChange[] = [];
  private readonly says: Said[] = [];
  private readonly dues: Due[] = [];
  private readonly keys: string[] = [];

  constructor(plight: Plight) {
    this.plight = plight;
  }

  /** True the first time in a while; it then counts as having happened. */
  once(kind: Quiet, who: string): boolean {
    const { event, taken } = this.plight;
    if (taken.has(quietKey(kind, who, event.at, 0)) || taken.has(quietKey(kind, who, event.at, 1))) return false;
    this.keys.push(quietKey(kind, who, event.at, 0));
    return true;
  }

  say(said: Omit<Said, 'id'>): void {
    this.says.push({ ...said, id: `${this.plight.event.id}:f${this.says.length + 1}` });
  }

  /** One text in a while says how many wait; what comes within it is told of once more after it. */
  tellCoordinators(key: TextKey, who: string): void {
    const { event, bare, programme } = this.plight;
    if (this.once('told', everything)) {
      for (const one of reachedFor(this, 'coordinators', null)) {
        sayTo(this, one, key, 'notice', { who, count: String(bare.parked + 1) });
      }
      return;
    }
    const turn = Math.floor(event.at / quietMs.told);
    this.dues.push({
      id: `parked-more:${turn}`,
      programmeId: programme.id,
      personId: null,
      caseId: null,
      name: 'parked-more',
      frameId: null,
      dueAt: (turn + 2) * quietMs.told,
      what: { kind: 'trouble', key: 'parked-more', vars: {} },
    });
  }

  result(): {
    says: readonly Said[];
    people: readonly RosterChange[];
    due: readonly Due[];
    onceKeys: readonly string[];
  } {
    return { says: this.says, people: this.people, due: this.dues, onceKeys: this.keys };
  }
}

/** The sender of a text: as the roster has them, else as the open columns do, else the number alone. */
export function addressee(aside: Aside, event: Exclude<LineEvent, { kind: 'due' }>): Reached {
  const { bare, programme } = aside.plight;
  const known = personOf(aside, bare.person?.id ?? null);
  const dialled = /^\+?\d{7,15}$/.test(event.from.address) && canBeDialled(event.from.channel);
  const number = dialled ? event.from.address : null;
  if (known) return { ...known, to: event.from, number: known.number ?? number };
  return {
    id: null,
    name: event.from.address,
    site: bare.person ? siteOf(programme, bare.person.siteId).name : '?',
    siteId: bare.person?.siteId ?? null,
    locale: bare.person?.locale ?? 'en',
    to: event.from,
    number,
  };
}

/** Somebody of the roster by id; null where the roster cannot tell. */
export function personOf(aside: Aside, id: string | null): Reached | null {
  const { roster, programme } = aside.plight;
  const found = roster.find((one) => one.id === id);
  // A name that does not open is empty (`Store.roster`).
  if (!found || found.name === '') return null;
  const dialled = found.addresses.find((one) => canBeDialled(one.channel));
  return {
    id: found.id,
    name: found.name,
    site: siteOf(programme, found.siteId).name,
    siteId: found.siteId,
    locale: found.locale,
    to: found.addresses[0] ?? null,
    number: dialled ? shownNumber(dialled) : null,
  };
}

/** Doctors on duty (else all) or the coordinators, those who can be written to, without `not`. */
export function reachedFor(aside: Aside, to: 'doctors' | 'coordinators', not: string | null): readonly Reached[] {
  const { event } = aside.plight;
  const people = receiversOf(aside.plight, null, to, event.at).filter((one) => one.id !== not);
  return people.flatMap((one) => personOf(aside, one.id) ?? []).filter((one) => one.to !== null);
}

/** Says a text, straight to an address. */
export function sayTo(
  aside: Aside,
  to: Reached,
  key: TextKey,
  lane: Lane,
  vars: Readonly<Record<string, string>> = {},
  first = false,
): void {
  if (to.to === null) return;
  const { programme, texts, event } = aside.plight;
  const { voiceNumber, hospital } = to.siteId === null ? programme : siteOf(programme, to.siteId);
  const values: Readonly<Record<string, string>> = { voice: voiceNumber, hospital, ...vars };
  for (const text of screensOf(texts.render(to.locale, key, (name) => values[name] ?? ''))) {
    aside.say({
      to: to.to,
      personId: to.id,
      caseId: null,
      lane,
      text: foldToGsm7(texts.asDrawn(to.locale, text)),
      flow: '-',
      step: key,
      code: null,
      ask: null,
      validUntil: event.at + durationOf(programme, `valid-${lane}`),
      notBefore: event.at,
      safety: true,
      ...(first ? { first: true as const } : {}),
    });
  }
}
