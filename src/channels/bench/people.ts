/** Who has a simulated phone, and all that their phone shows. */
import { type Role, roles } from '../../case/roles.ts';
import { shownNumber } from '../../conversation/channel-facts.ts';
import type { Person } from '../../conversation/world.ts';
import type { Line } from '../../line/line.ts';
import type { Loaded, StoredMessage } from '../../line/ports.ts';
import { countSegments } from '../../text/segments.ts';
import type { BenchChannel } from './channel.ts';
import { type KnownQuestion, openQuestionsOf } from './open-questions.ts';
import { type Urgency, urgencyOf } from './urgency.ts';

export interface ShownText {
  readonly id: string;
  /** From the line to the phone. */
  readonly out: boolean;
  readonly at: number;
  readonly text: string;
  /** Waits for the net of its phone. */
  readonly held: boolean;
  readonly urgency: Urgency;
}

/** What a phone sent and got since the beginning, in texts and in segments that somebody pays for. */
export interface PhoneCost {
  readonly sentTexts: number;
  readonly sentSegments: number;
  readonly gotTexts: number;
  readonly gotSegments: number;
}

export interface ShownPerson {
  readonly id: string;
  readonly name: string;
  readonly roles: readonly Role[];
  readonly address: string;
  /** Shown as the phone's own; nobody can dial it. */
  readonly number: string;
  readonly net: boolean;
  readonly texts: readonly ShownText[];
  readonly questions: readonly KnownQuestion[];
  readonly cost: PhoneCost;
}

/** Texts of one phone that the page gets at most, newest last. */
const textsAtMost = 200;
/** Texts that never reached a phone. */
const neverThere: readonly StoredMessage['status'][] = ['queued', 'sending', 'failed', 'expired', 'replaced'];

interface Owner {
  readonly person: Person;
  readonly address: string;
}

/** People with a phone in the order worker, doctor, laboratory, coordinator; doctors as on the ladder, others by name. */
export async function phoneOwners(line: Line, channel: BenchChannel): Promise<readonly Owner[]> {
  const roster = await line.store.roster(line.options.content.programme.id);
  const owners = roster.flatMap((person) => {
    const address = person.addresses.find((one) => one.channel === channel.name)?.address;
    return address === undefined ? [] : [{ person, address }];
  });
  const place = ({ person }: Owner): number => (person.roles[0] ? roles.indexOf(person.roles[0]) : -1);
  return owners.sort(
    (a, b) => place(a) - place(b) || a.person.rank - b.person.rank || a.person.name.localeCompare(b.person.name),
  );
}

/** Everybody who has a phone, with all that it shows. */
export async function peopleOf(line: Line, channel: BenchChannel): Promise<readonly ShownPerson[]> {
  const owners = await phoneOwners(line, channel);
  return Promise.all(owners.map((owner) => shownPerson(line, channel, owner)));
}

async function shownPerson(line: Line, channel: BenchChannel, owner: Owner): Promise<ShownPerson> {
  const { person, address } = owner;
  const there = await textsThere(line, channel, owner);
  return {
    id: person.id,
    name: person.name,
    roles: person.roles,
    address,
    number: shownNumber({ channel: channel.name, address }),
    net: channel.hasNet(address),
    texts: [...there.slice(-textsAtMost).map(shownText), ...heldTexts(channel, address)],
    questions: await questionsOn(line, owner, there),
    cost: costOf(there),
  };
}

/** The open questions of one phone. */
export async function questionsOf(line: Line, channel: BenchChannel, owner: Owner): Promise<readonly KnownQuestion[]> {
  return questionsOn(line, owner, await textsThere(line, channel, owner));
}

async function questionsOn(line: Line, { person, address }: Owner, texts: readonly StoredMessage[]) {
  const { store, options } = line;
  const { content, clock } = options;
  // What the store would give along with a text of theirs; nothing is taken by looking.
  const look = {
    id: `bench:look:${person.id}`,
    programmeId: content.programme.id,
    keys: [],
    at: clock.now(),
    seed: new Uint8Array(16),
    kind: 'text',
    from: { channel: 'bench', address },
    text: '',
    networkAt: null,
  } as const;
  const [loaded] = (await store.load([look], content.flows)) as [Loaded];
  return openQuestionsOf(content, person, loaded, texts);
}

/** What is on a phone or left it: stored, arrived, not waiting for its net. */
async function textsThere(line: Line, channel: BenchChannel, { person, address }: Owner) {
  const held = new Set(channel.waitingFor(address).map((one) => one.id));
  const messages = await line.store.messages({ personId: person.id });
  return messages.filter(
    (one) => one.address.address === address && !neverThere.includes(one.status) && !held.has(one.id),
  );
}

function shownText({ id, at, text, said }: StoredMessage): ShownText {
  return { id, out: said !== null, at, text, held: false, urgency: said ? urgencyOf(said) : 'plain' };
}

/** What the phone wrote while its net was off. What waits on the other side nobody can see. */
function heldTexts(channel: BenchChannel, address: string): readonly ShownText[] {
  const waiting = channel.waitingFor(address).filter((one) => !one.out);
  return waiting.map(({ id, at, text }) => ({ id, out: false, at, text, held: true, urgency: 'plain' as const }));
}

function costOf(texts: readonly StoredMessage[]): PhoneCost {
  const [got, sent] = [texts.filter((one) => one.said !== null), texts.filter((one) => one.said === null)];
  const sum = (all: readonly number[]): number => all.reduce((one, more) => one + more, 0);
  return {
    sentTexts: sent.length,
    sentSegments: sum(sent.map((one) => countSegments(one.text).segments)),
    gotTexts: got.length,
    gotSegments: sum(got.map((one) => one.said!.segments)),
  };
}
