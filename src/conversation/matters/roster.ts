/** The coordinator's words for people: ADD, CHANGE, SUSPEND, RESTORE, FRESH, HANDOVER, PEOPLE; and LOST, from any phone. */
import { isRole, roles } from '../../case/roles.ts';
import type { TextKey } from '../../generated/text-keys.ts';
import { toAsciiDigits } from '../../text/digits.ts';
import { foldWord } from '../../text/fold.ts';
import { areNames } from '../../text/one-line.ts';
import { proofFor, type RosterAct } from '../authority.ts';
import type { Interpreter } from '../interpret.ts';
import { lastOf } from '../last-one.ts';
import type { Act, Command, Matter, Moment } from '../moment.ts';
import { readsLikeTheLine } from '../name-words.ts';
import { durationOf, siteOf } from '../programme.ts';
import { idleFrame } from '../state.ts';
import type { Turn } from '../turn.ts';
import type { Person, Role, World } from '../world.ts';
import { showPeople } from './people-list.ts';
import { change, refusalOf, secondsFor, type Wanted, wantedOf, weigh } from './roster-change.ts';

const numberForm = /\+\d(?:\d|[\s-](?=\d)){6,18}/;

/** A phone number in a text, without spaces, and the words around it. */
function numberIn(text: string): { readonly number: string | null; readonly rest: string } {
  const plain = toAsciiDigits(text).trim();
  const found = numberForm.exec(plain)?.[0] ?? null;
  if (found === null) return { number: null, rest: plain };
  return { number: found.replace(/[\s-]/g, ''), rest: plain.replace(found, ' ').replace(/\s+/g, ' ').trim() };
}

type Found = { readonly person: Person } | { readonly names: readonly string[] };

/** People meant by a number or a name. A part of a name is enough for a coordinator, nobody else learns names by trying. */
function findPerson(world: World, text: string, partly: boolean): Found {
  const { number, rest } = numberIn(text);
  const wanted = foldWord(rest.replace(/[,;:.]+/g, ' '));
  const names = (one: Person): string => foldWord(one.name.replace(/\./g, ' '));
  const byNumber = world.roster.filter((one) => one.addresses.some((at) => at.address === number));
  const whole = wanted === '' ? [] : world.roster.filter((one) => names(one) === wanted);
  const part = partly && wanted.length > 1 ? world.roster.filter((one) => ` ${names(one)}`.includes(` ${wanted}`)) : [];
  const found = [byNumber, whole, part].find((some) => some.length > 0) ?? [];
  if (found.length === 1) return { person: found[0]! };
  return { names: found.map((one) => one.name) };
}

function refuse(turn: Turn, person: Person, key: TextKey, vars: Record<string, string> = {}): void {
  turn.say(person, key, { frame: null, caseId: null, vars });
  turn.disturbed = true;
}

/** The person named, or null once the sender was told that there is none. */
function named(turn: Turn, interpreter: Interpreter, text: string, otherwise: TextKey): Person | null {
  const sender = interpreter.person;
  const found = findPerson(turn.world, text, sender.roles.includes('coordinator'));
  if ('person' in found) return found.person;
  if (found.names.length > 1) refuse(turn, sender, 'staff.several', { names: found.names.slice(0, 3).join(', ') });
  else refuse(turn, sender, otherwise);
  return null;
}

/** Asks for the digits, unless the change cannot be made as things stand. */
function begin(turn: Turn, interpreter: Interpreter, vars: Record<string, string | boolean>): void {
  const frame = { ...idleFrame, flow: 'staff' as const, vars };
  const refusal = refusalOf(turn.world, wantedOf(turn.world, frame));
  if (refusal !== null) {
    turn.say(interpreter.person, `staff.no-${refusal}`, { frame, caseId: null });
    turn.disturbed = true;
    return;
  }
  // A change that was begun and not confirmed gives way to the next one: its digits count no more.
  for (const thread of turn.threads.filter((one) => one.frames.length === 1 && one.frames[0]?.flow === 'staff')) {
    turn.cancelTimers(thread.id);
    interpreter.remove(thread.id);
  }
  interpreter.run('staff', { vars });
}

/** `worker +000555010042 oruma Ada Lumo`; `worker+shared` for a phone that a site shares. */
function add(turn: Turn, interpreter: Interpreter, text: string): void {
  const { number, rest } = numberIn(text);
  const [words = '', site = '', ...name] = rest.split(/\s+/);
  const { texts } = turn.world;
  const { locale } = interpreter.person;
  const wanted = foldWord(words)
    .split('+')
    .map((one) => roles.find((role) => foldWord(roleWords(turn.world, locale, [role])) === one) ?? one);
  const isShared = (one: string): boolean => texts.words(locale, 'add-words', 'shared').includes(one);
  const shared = wanted.some(isShared);
  const meant = wanted.filter((one) => !isShared(one));
  const { sites, laboratories } = turn.world.programme;
  const places = meant.includes('lab') ? [...laboratories, ...sites] : sites;
  const place = places.find((one) => one.id === site.toLowerCase());
  const known = meant.length > 0 && meant.every(isRole);
  const person = interpreter.person;
  if (known && proofFor('add', meant) === 'two-people' && secondsFor(turn.world, person, null).length === 0) {
    refuse(turn, person, 'staff.two-people');
    return;
  }
  const sharable = !shared || meant.every((one) => one === 'worker' || one === 'lab');
  const isOurs = name
    .join(' ')
    .split('/')
    .some((one) => readsLikeTheLine(texts, one.trim()) !== null);
  if (known && number !== null && place && isOurs) {
    refuse(turn, person, 'staff.no-such-name');
    return;
  }
  if (!known || !sharable || number === null || !place || !areNames(name.join(' '), shared)) {
    refuse(turn, person, 'staff.how-add');
    return;
  }
  const vars = { roles: meant.join('+'), shared, name: name.join(' '), address: number, site: place.id };
  begin(turn, interpreter, { act: 'add', ...vars });
}

/** `Ada Lumo +000555010042`; the person also by the old number, which then stands first. */
function changeNumber(turn: Turn, interpreter: Interpreter, text: string): void {
  const first = numberIn(text);
  const second = numberIn(first.rest);
  const address = second.number ?? first.number;
  const who = second.number === null ? first.rest : (first.number ?? '');
  if (address === null || who === '') {
    refuse(turn, interpreter.person, 'staff.how-change');
    return;
  }
  const person = named(turn, interpreter, who, 'staff.who');
  if (person) begin(turn, interpreter, { act: 'change', personId: person.id, address });
}

function about(act: RosterAct, word: string): Command['run'] {
  return (turn, interpreter, text) => {
    if (text.trim() === '') {
      const shownWord = turn.world.texts.keywordShown(interpreter.person.locale, word);
      refuse(turn, interpreter.person, 'staff.how-person', { word: shownWord });
      return;
    }
    const person = named(turn, interpreter, text, 'staff.who');
    if (person) begin(turn, interpreter, { act, personId: person.id });
  };
}

function handOverCases(turn: Turn, interpreter: Interpreter, text: string): void {
  const between = turn.world.texts.words(interpreter.person.locale, 'hand-over-words', 'to');
  const parted = text.split(/\s+/).map((one) => (between.includes(foldWord(one)) ? ',' : one));
  const [from = '', to = '', ...more] = parted
    .join(' ')
    .split(/\s*[,;>]\s*/)
    .filter((one) => one !== '');
  if (from === '' || to === '' || more.length > 0) {
    refuse(turn, interpreter.person, 'staff.how-hand-over');
    return;
  }
  const person = named(turn, interpreter, from, 'staff.who');
  const heir = person ? named(turn, interpreter, to, 'staff.who') : null;
  if (person && heir) begin(turn, interpreter, { act: 'hand-over', personId: person.id, heirId: heir.id });
}

/** By the digits sent to the phone that asks, the own one too: a forged text must not silence anybody. */
function lost(turn: Turn, interpreter: Interpreter, text: string): void {
  const sender = interpreter.person;
  if (text.trim() === '') {
    refuse(turn, sender, 'staff.how-lost');
    return;
  }
  const person = named(turn, interpreter, text, 'staff.who-lost');
  if (!person) return;
  const role = lastOf(turn.world, person);
  if (role !== null) {
    // A line without a doctor is worse than a doubtful phone, but somebody must act now.
    const vars = { who: sender.name, name: person.name, role: roleWords(turn.world, sender.locale, [role]) };
    for (const to of ['coordinators', 'doctors'] as const) turn.notify(to, 'staff.lost-last', 'sos', null, null, vars);
  }
  begin(turn, interpreter, { act: 'lost', personId: person.id });
}

function roleWords(world: World, locale: string, of: readonly Role[]): string {
  return of.map((role) => world.texts.render(locale, `staff.role-${role}`, () => '')).join('+');
}

/** Last four digits: enough to know one's own phone by, too little to learn a number. */
function endOf(person: Person | null): string {
  const address = person?.addresses[0]?.address ?? '';
  return address === '' ? '-' : `..${address.slice(-4)}`;
}

/** A text of this conversation with the frame's values in it. */
function words(m: Moment, key: string): string {
  const wanted = wantedOf(m.world, m.frame);
  const values: Readonly<Record<string, string>> = {
    ...shown(m, wanted),
    joinHours: String(durationOf(m.world.programme, 'join-number') / 3_600_000),
    voice: siteOf(m.world.programme, m.person.siteId).voiceNumber,
  };
  return m.world.texts.has(key) ? m.world.texts.render(m.person.locale, key, (name) => values[name] ?? '') : '';
}

function shown(m: Moment, wanted: Wanted): Record<string, string> {
  const last = wanted.person ? lastOf(m.world, wanted.person) : null;
  return {
    rosterName: wanted.name,
    rosterAddress: wanted.address,
    rosterSite: wanted.siteId,
    rosterRole: roleWords(m.world, m.person.locale, last === null ? wanted.roles : [last]),
    rosterEnd: endOf(wanted.person),
    rosterHeir: wanted.heir?.name ?? '',
    firstName: wanted.first?.name ?? '',
  };
}

const showing = (name: string, sample: string) => ({
  [name]: { of: (m: Moment) => shown(m, wantedOf(m.world, m.frame))[name] ?? '', sample },
});

/** Tells whoever asked first what the second said. */
function tellFirst(m: Moment, key: TextKey): readonly Act[] {
  const { first } = wantedOf(m.world, m.frame);
  if (!first) return [];
  const vars = { ...m.frame.vars, by: m.person.name };
  const what = { kind: 'tell', key, caseId: null, item: null, vars, lane: 'notice' } as const;
  return [{ do: 'post', personId: first.id, what, caseId: null }];
}

function askSecond(m: Moment): readonly Act[] {
  const { person } = wantedOf(m.world, m.frame);
  // The first of them speaks for all when nobody answers.
  const asked = (speaks: boolean) => ({ ...m.frame.vars, firstId: m.person.id, speaks });
  return secondsFor(m.world, m.person, person).map((one, index) => ({
    do: 'post',
    personId: one.id,
    caseId: null,
    what: {
      kind: 'run',
      flow: 'second',
      caseId: null,
      item: null,
      vars: asked(index === 0),
    },
  }));
}

function doings(m: Moment): string {
  const said = (type: string): string => words(m, `staff.did-${type}`);
  return String(m.frame.vars.doings ?? '')
    .split(';')
    .map((line) => {
      const [who = '', did = ''] = line.split('=');
      const [acts = '', rest = ''] = did.split(' ');
      return `${who}: ${acts.split(',').map(said).join(', ')}${rest === '' ? '' : ` ${rest}`}`;
    })
    .join('; ');
}

/** Only a worker's cases go to a colleague. */
function casesWent(m: Moment): string {
  const { to, count } = m.frame.vars;
  if (typeof to !== 'string') return '';
  const key = 'staff.cases-went';
  return m.world.texts.render(m.person.locale, key, (name) => (name === 'to' ? to : String(count ?? '')));
}

export const roster: Matter = {
  commands: {
    ADD: { roles: ['coordinator'], run: add },
    CHANGE: { roles: ['coordinator'], run: changeNumber },
    SUSPEND: { roles: ['coordinator'], run: about('suspend', 'SUSPEND') },
    RESTORE: { roles: ['coordinator'], run: about('restore', 'RESTORE') },
    FRESH: { roles: ['coordinator'], run: about('fresh', 'FRESH') },
    HANDOVER: { roles: ['coordinator'], run: handOverCases },
    PEOPLE: { roles: ['coordinator'], run: (turn, interpreter, text) => showPeople(turn, interpreter, text, 0) },
    LOST: { roles, run: lost },
  },
  decisions: {
    'roster-change': { outcomes: ['alone', 'second', 'nobody', 'refused'], decide: weigh },
    'second-still': {
      outcomes: ['wanted', 'over'],
      decide: (m) => {
        const wanted = wantedOf(m.world, m.frame);
        const still = wanted.first?.state === 'joined' && refusalOf(m.world, wanted) === null;
        // The person concerned, or whoever asked first, is no second.
        return still && m.person.id !== wanted.first?.id && m.person.id !== wanted.person?.id ? 'wanted' : 'over';
      },
    },
  },
  recorders: {
    'roster-change': change,
    'ask-second': askSecond,
    'second-agreed': (m) => tellFirst(m, 'second.told-agreed'),
    'second-refused': (m) => tellFirst(m, 'second.told-refused'),
    'second-lapsed': (m) => (m.frame.vars.speaks === true ? tellFirst(m, 'second.told-lapsed') : []),
  },
  values: {
    rosterWhat: {
      of: (m) => words(m, `staff.what-${wantedOf(m.world, m.frame).act}`),
      sample: 'ADD worker Ada Lumo, +000555010042, oruma? The join number goes to that phone.',
    },
    secondWhat: {
      of: (m) => words(m, `second.what-${wantedOf(m.world, m.frame).act}`),
      sample: 'add doctor Ada Lumo, +000555010042, oruma?',
    },
    rosterDone: {
      of: (m) => {
        const { act, person } = wantedOf(m.world, m.frame);
        return words(m, act === 'lost' && person?.id === m.person.id ? 'staff.done-lost-own' : `staff.done-${act}`);
      },
      sample: 'Ada Lumo is invited. The join number went to that phone and holds 72 h.',
    },
    rosterRefusal: {
      of: (m) => words(m, `staff.no-${refusalOf(m.world, wantedOf(m.world, m.frame)) ?? 'gone'}`),
      sample: 'Somebody else changed that meanwhile. PEOPLE shows how it stands.',
    },
    ...showing('rosterName', 'Ada Lumo'),
    ...showing('rosterAddress', '+000555010042'),
    ...showing('rosterSite', 'oruma'),
    ...showing('rosterRole', 'coordinator'),
    ...showing('rosterEnd', '..0042'),
    ...showing('rosterHeir', 'Beno Sarr'),
    ...showing('firstName', 'Sela Rune'),
    seconds: {
      of: (m) =>
        secondsFor(m.world, m.person, wantedOf(m.world, m.frame).person)
          .map((one) => one.name)
          .slice(0, 2)
          .join(' / '),
      sample: 'Mila Ost',
    },
    secondHours: { of: (m) => String(durationOf(m.world.programme, 'second-answer') / 3_600_000), sample: '24' },
    doingsHours: { of: (m) => String(durationOf(m.world.programme, 'lost-look-back') / 3_600_000), sample: '72' },
    doingLines: { of: doings, sample: 'AK 4829 1354: filed a result' },
    awayWhy: {
      of: (m) => words(m, `staff.why-${String(m.frame.vars.awayWhy ?? 'lost')}`),
      sample: 'lost',
      fromVar: true,
    },
    casesWent: { of: casesWent, sample: 'Open cases: 3, now with: Beno Sarr. ' },
  },
};
