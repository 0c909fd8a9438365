/** The links by which people reach the line, and what the conversation must know of each. */
import type { Address } from './world.ts';

/** Every link that somebody of the roster can be written to by. `bench`: the phones of the page for trying it out. */
export const channels = ['sms', 'telegram', 'bench'] as const;
export type ChannelName = (typeof channels)[number];

export interface ChannelFacts {
  /** What people call it. */
  readonly name: string;
  /** What an address is: a number that can be dialled, the network's own id, or a plain name. */
  readonly address: 'phone-number' | 'user-id' | 'name';
  /** Nobody can write in somebody else's name: an invitation by link counts here. A sender's number of an SMS proves nothing. */
  readonly provesSender: boolean;
  /** No network reads the texts on their way: a patient's name may stand in them where the programme wants it. */
  readonly isPrivate: boolean;
  /** The line may write to somebody there who has never written to it, as a network that joins by a link does not allow. */
  readonly writesFirst: boolean;
}

const facts: Readonly<Record<ChannelName, ChannelFacts>> = {
  sms: { name: 'SMS', address: 'phone-number', provesSender: false, isPrivate: false, writesFirst: true },
  telegram: { name: 'Telegram', address: 'user-id', provesSender: true, isPrivate: true, writesFirst: false },
  bench: { name: 'Bench', address: 'name', provesSender: false, isPrivate: false, writesFirst: false },
};

/** What is known of a link. One with a name of its own is trusted with nothing. */
export function channelFacts(channel: string): ChannelFacts {
  const known = channels.find((one) => one === channel);
  return known ? facts[known] : { ...facts.bench, name: channel };
}

/** Invented numbers that are told apart; a prime, so that alike names get different ones. */
const inventedNumbers = 997;

/**
 * The number that is shown for an address that can be called. A name of the bench has an invented one, always the same, of
 * no country (no code begins with 0): whoever practises sees how a number looks and can dial none.
 */
export function shownNumber({ channel, address }: Address): string {
  if (channel !== 'bench') return address;
  let sum = 0;
  for (const sign of address) sum = (sum * 31 + sign.codePointAt(0)!) % inventedNumbers;
  return `+000555010${String(sum + 1).padStart(3, '0')}`;
}

/** True: somebody can be called at this link's addresses, or could be (a name on the bench). */
export function canBeDialled(channel: string): boolean {
  return channelFacts(channel).address !== 'user-id';
}
