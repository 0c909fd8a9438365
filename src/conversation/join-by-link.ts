/**
 * Joining by a link: the number that a messenger gives its user is not known before, so whoever first opens the link of an
 * invitation is taken for the person invited. The link cannot be guessed, is used once, and lapses.
 */
import { Interpreter } from './interpret.ts';
import { joinLinkIn } from './join-link.ts';
import { practise } from './practise.ts';
import { comeBack } from './standing.ts';
import { hearStopped } from './strangers.ts';
import type { Turn } from './turn.ts';
import type { Person } from './world.ts';

/**
 * True: the text was a link whose secret is right, and was dealt with. The store hands over the person that it is for, who
 * is not the sender until this says so.
 */
export function joinByLink(turn: Turn): boolean {
  const event = turn.event;
  if (event.kind !== 'text') return false;
  const link = joinLinkIn(event.from, event.text);
  const { person } = turn;
  const { invitation } = turn.world;
  if (!link || !person || invitation?.id !== link.invitationId || invitation.number !== link.secret) return false;
  if (invitation.used || invitation.validUntil < turn.now || person.state === 'suspended') {
    turn.person = null;
    const { texts } = turn.world;
    turn.sayToStranger(
      texts.asDrawn(
        person.locale,
        texts.render(person.locale, 'join.link-spent', () => ''),
      ),
    );
    return true;
  }
  turn.changePeople({ kind: 'use-invitation', invitationId: invitation.id, wrongTry: false });
  // Whoever has a phone already hears there that it happened.
  const before = person.addresses[0];
  if (before && person.state === 'joined') turn.say(person, 'join.linked-elsewhere', { frame: null, caseId: null });
  turn.notify('coordinators', 'join.joined-by-link', 'notice', null, null, { who: person.name });
  const others = person.addresses.filter((one) => one.channel !== event.from.channel);
  const bound: Person = { ...person, addresses: [event.from, ...others] };
  if (person.state === 'stopped') {
    turn.changePeople({ kind: 'put-person', person: bound });
    hearStopped(turn, bound, 'start');
    return true;
  }
  const joined: Person = { ...bound, state: 'joined' };
  turn.changePeople({ kind: 'put-person', person: joined });
  if (!joined.practised) practise(turn, new Interpreter(turn, joined));
  else if (person.state === 'invited') comeBack(turn, new Interpreter(turn, joined));
  else turn.say(joined, 'join.linked', { frame: null, caseId: null });
  turn.disturbed = true;
  return true;
}
