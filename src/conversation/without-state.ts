/**
 * What an event that cannot be handled gets all the same, made of open columns, the roster and the texts alone: nothing of
 * anybody's case or conversation is needed, so nothing of it can stand in the way. An alarm gets first aid and responders,
 * every other text an answer, and the coordinators hear that a person must look.
 */
import { channelFacts } from './channel-facts.ts';
import type { RosterChange, Said } from './effect.ts';
import type { Due, LineEvent } from './event.ts';
import { alarmIn } from './hearing/alarm-in.ts';
import { lastOf } from './last-one.ts';
import { asciiWords } from './plain-words.ts';
import { Aside, addressee, type Bare, type Plight, reachedFor, sayTo } from './plight.ts';
import { dueWithoutState } from './without-state-due.ts';

export type { Bare, Plight };

export interface WithoutState {
  readonly says: readonly Said[];
  readonly people: readonly RosterChange[];
  readonly due: readonly Due[];
  /** What happens at most once in a while happened now. */
  readonly onceKeys: readonly string[];
}

/** Pure: the same plight always gives the same. */
export function withoutState(plight: Plight): WithoutState {
  const aside = new Aside(plight);
  const { event } = plight;
  if (event.kind === 'due') dueWithoutState(aside, event.due);
  else textWithoutState(aside, event);
  return aside.result();
}

function textWithoutState(aside: Aside, event: Exclude<LineEvent, { kind: 'due' }>): void {
  const { bare } = aside.plight;
  const text = event.kind === 'tap' ? event.reply : event.text;
  const words = asciiWords(text);
  const onLine = bare.person?.state === 'joined' || bare.person?.state === 'stopped';
  // Numbers with letters and short codes are machines: never answered.
  if (
    !onLine &&
    channelFacts(event.from.channel).address === 'phone-number' &&
    !/^\+?\d{7,15}$/.test(event.from.address)
  )
    return;
  if (alarmIn(text, aside.plight.texts.alarmWords(null)) !== null) {
    alarm(aside, event, onLine);
    return;
  }
  if (words.length === 1 && words[0] === 'stop' && bare.person?.state === 'joined') {
    stop(aside, event, bare.person.id);
    return;
  }
  if (bare.person?.state === 'stopped' && words[0] === 'stop') return;
  if (aside.once('answer', phoneOf(event))) sayTo(aside, addressee(aside, event), 'aside.sorry', 'reply');
  aside.tellCoordinators('aside.for-coordinator', addressee(aside, event).name);
}

function phoneOf({ from }: Exclude<LineEvent, { kind: 'due' }>): string {
  return `${from.channel}:${from.address}`;
}

/** First aid whenever it is asked for; whoever can help hears of it, repeats merged. */
function alarm(aside: Aside, event: Exclude<LineEvent, { kind: 'due' }>, onLine: boolean): void {
  const sender = addressee(aside, event);
  const fresh = aside.once('alarm', phoneOf(event));
  sayTo(aside, sender, onLine ? 'aside.first-aid' : 'common.stranger-first-aid', 'sos', {}, fresh);
  const doctors = onLine ? reachedFor(aside, 'doctors', sender.id) : [];
  const coordinators = reachedFor(aside, 'coordinators', sender.id).filter((one) => !doctors.includes(one));
  if (onLine) {
    const names = doctors.length > 0 ? doctors : coordinators;
    const key = names.length > 0 ? 'aside.told' : 'aside.told-nobody';
    sayTo(aside, sender, key, 'sos', {
      names: names
        .map((one) => one.name)
        .slice(0, 2)
        .join(', '),
    });
  }
  if (fresh) {
    const key = sender.number === null ? 'aside.alarm-no-number' : 'aside.alarm';
    const vars = { who: sender.name, site: sender.site, number: sender.number ?? '' };
    for (const one of [...doctors, ...coordinators]) sayTo(aside, one, key, 'sos', vars, true);
  }
  aside.tellCoordinators('aside.for-coordinator', sender.name);
}

/**
 * Obeyed at once, but for the last one of a role: no digits can be kept here that would prove them. What the person owes could
 * not be passed on: somebody must.
 */
function stop(aside: Aside, event: Exclude<LineEvent, { kind: 'due' }>, personId: string): void {
  const sender = addressee(aside, event);
  const person = aside.plight.roster.find((one) => one.id === personId);
  const role = person ? lastOf(aside.plight, person) : null;
  if (role !== null) {
    const said = aside.plight.texts.render(sender.locale, `staff.role-${role}`, () => '');
    sayTo(aside, sender, 'aside.stop-last', 'reply', { role: said });
    return;
  }
  aside.people.push({ kind: 'leave', personId });
  sayTo(aside, sender, 'people.stopped', 'reply');
  for (const one of reachedFor(aside, 'coordinators', sender.id)) {
    sayTo(aside, one, 'aside.stopped-for-coordinator', 'notice', { who: sender.name });
  }
}
