/** What the page shows when it is opened: everybody of the roster with a simulated phone, and their texts. */
import { type Role, roles } from '../../case/roles.ts';
import type { Line } from '../../line/line.ts';
import type { StoredMessage } from '../../line/ports.ts';
import type { BenchChannel, Choice } from './channel.ts';

export interface ShownText {
  readonly id: string;
  readonly out: boolean;
  readonly at: number;
  readonly text: string;
  /** Waits for the net of its phone. */
  readonly held: boolean;
}

export interface ShownPerson {
  readonly name: string;
  readonly roles: readonly Role[];
  readonly address: string;
  readonly net: boolean;
  readonly texts: readonly ShownText[];
  readonly options: readonly Choice[];
}

/** Texts of one phone that the page gets at most, newest last. */
const textsAtMost = 200;
/** Texts that never reached a phone. */
const neverThere: readonly StoredMessage['status'][] = ['queued', 'sending', 'failed', 'expired', 'replaced'];

/** People in the order worker, doctor, laboratory, coordinator; doctors as they stand on the ladder, others by name. */
export async function peopleOf(
  line: Line,
  channel: BenchChannel,
  programmeId: string,
): Promise<readonly ShownPerson[]> {
  const roster = await line.store.roster(programmeId);
  const people: (ShownPerson & { readonly rank: number })[] = [];
  for (const person of roster) {
    const address = person.addresses.find((one) => one.channel === channel.name)?.address;
    if (!address) continue;
    const messages = await line.store.messages({ personId: person.id });
    people.push({
      name: person.name,
      roles: person.roles,
      address,
      net: channel.hasNet(address),
      texts: textsOn(address, messages, channel),
      options: channel.optionsOf(address),
      rank: person.rank,
    });
  }
  const place = (one: ShownPerson): number => (one.roles[0] ? roles.indexOf(one.roles[0]) : -1);
  return people.sort((a, b) => place(a) - place(b) || a.rank - b.rank || a.name.localeCompare(b.name));
}

function textsOn(address: string, messages: readonly StoredMessage[], channel: BenchChannel): readonly ShownText[] {
  const waiting = channel.waitingFor(address);
  const held = new Set(waiting.map((one) => one.id));
  const there = messages.filter(
    (one) => one.address.address === address && !neverThere.includes(one.status) && !held.has(one.id),
  );
  return [
    ...there.slice(-textsAtMost).map(({ id, direction, at, text }) => ({
      id,
      out: direction === 'out',
      at,
      text,
      held: false,
    })),
    ...waiting.filter((one) => !one.out).map(({ id, at, text }) => ({ id, out: false, at, text, held: true })),
  ];
}
