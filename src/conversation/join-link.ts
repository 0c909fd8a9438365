/** The link of an invitation: what it looks like, and where it counts. */
import { channelFacts } from './channel-facts.ts';
import { durationOf } from './programme.ts';
import type { Address, Invitation, Person } from './world.ts';

/** The invitation's id (14 characters) and at least 128 bits as base64url; in all within the 64 that Telegram's links hold. */
const form = /^\s*start\s+(i-[0-9a-f]{12})-([\w-]{22,48})\s*$/i;

/** What a link carries. */
export interface JoinLink {
  readonly invitationId: string;
  readonly secret: string;
}

/** The link in a text from this address, or null. */
export function joinLinkIn(from: Address, text: string): JoinLink | null {
  const found = channelFacts(from.channel).provesSender ? form.exec(text) : null;
  return found ? { invitationId: found[1]!.toLowerCase(), secret: found[2]! } : null;
}

/** Invited by a link, not by a number that is typed. */
export function isLink(invitation: Pick<Invitation, 'number'>): boolean {
  return invitation.number.length > 6;
}

/** What follows `?start=` in the link of an invitation. */
export function linkPayload(invitation: Pick<Invitation, 'id' | 'number'>): string {
  return `${invitation.id}-${invitation.number}`;
}

/**
 * An invitation by link. `id` is 12 hexadecimal digits, `secret` at least 128 bits as base64url, both drawn by the caller;
 * it holds as long as a join number.
 */
export function linkInvitation(
  of: { readonly person: Person; readonly id: string; readonly secret: string; readonly now: number },
  programme: Parameters<typeof durationOf>[0],
): Invitation {
  return {
    id: `i-${of.id}`,
    personId: of.person.id,
    programmeId: of.person.programmeId,
    number: of.secret,
    validUntil: of.now + durationOf(programme, 'join-number'),
    wrongTries: 0,
    used: false,
  };
}
