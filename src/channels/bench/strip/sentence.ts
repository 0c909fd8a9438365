/** What happens if nobody answers, in the words of the page. */
import type { Case } from '../../../case/case.ts';
import type { Duty } from '../../../case/duty.ts';
import type { Role } from '../../../case/roles.ts';
import { assertNever } from '../../../clinical/assert-never.ts';
import { durationOf, siteOf } from '../../../conversation/programme.ts';
import { localTime } from '../../../conversation/schedule.ts';
import type { Person } from '../../../conversation/world.ts';
import { clockWords, dayWordsAt } from '../../../text/time-words.ts';
import type { Forecast } from './forecast.ts';
import { type Place, toldAs } from './people-of.ts';
import type { Say } from './words.ts';

/** All that a sentence is made of. */
export interface Scene {
  readonly of: Case;
  readonly duty: Duty;
  readonly place: Place;
  readonly now: number;
  readonly say: Say;
}

/** Whole sentences, most pressing first. Of a silent question also what follows when nothing comes of it at all. */
export function ifNobody(forecast: Forecast, scene: Scene): string {
  return partsOf(forecast, scene).join(' ');
}

function partsOf(forecast: Forecast, scene: Scene): readonly string[] {
  const { say } = scene;
  const who = names(forecast.who, scene);
  const when = whenOf(forecast.at, scene);
  const coordinator = role(scene, 'coordinator');
  const isHeard = hears(scene, 'coordinator');
  switch (forecast.kind) {
    case 'climbs':
      return climbs(forecast, scene);
    case 'neck':
      return [
        isHeard ? say('strip-neck', { who, when, coordinator }) : say('strip-neck-unheard', { who, when }),
        say('strip-neck-doctors', { when: whenOf(forecast.alarmAt, scene) }),
      ];
    case 'neck-alarm':
      return [say('strip-neck-alarm', { when })];
    case 'lapses':
      return [
        isHeard ? say('strip-lapses', { who, when, coordinator }) : say('strip-lapses-unheard', { who, when }),
        ...reminds(scene),
      ];
    case 'writes': {
      const isWatched = scene.of.status === 'aftercare' && !forecast.again && scene.of.sos === null;
      return [
        forecast.again ? say('strip-writes-again', { who, when }) : say('strip-writes', { who, when }),
        ...(isWatched ? neckAhead(scene) : reminds(scene)),
      ];
    }
    case 'reminds':
      return reminds(scene);
    default:
      return assertNever(forecast);
  }
}

/** The watch is on, and nobody was asked about the neck yet. */
function neckAhead(scene: Scene): readonly string[] {
  const { programme } = scene.place;
  const soon = span(durationOf(programme, 'neck-answer'), scene);
  const late = span(durationOf(programme, 'neck-alarm'), scene);
  const coordinator = role(scene, 'coordinator');
  return hears(scene, 'coordinator')
    ? [scene.say('strip-neck-ahead', { soon, late, coordinator })]
    : [scene.say('strip-neck-ahead-unheard', { late })];
}

function climbs(forecast: Forecast & { readonly kind: 'climbs' }, scene: Scene): readonly string[] {
  const { question, held, askedAt, next } = forecast;
  const { say } = scene;
  const who = names(forecast.who, scene);
  const when = whenOf(forecast.at, scene);
  const pace = paceOf(question.urgency, scene);
  const silence = question.urgency === 'now' ? [] : [say('strip-silence')];
  if (held) {
    const first = next ? say('strip-held', { who, when, next: next.name }) : say('strip-held-last', { who, when });
    return [first, ...silence];
  }
  if (question.askedOf.length === 0) {
    const first = next ? say('strip-asked-then', { when, next: next.name }) : say('strip-asked-then-nobody', { when });
    return [first, ...pace];
  }
  if (next === null) {
    if (question.rung >= question.askedOf.length) return [say('strip-spent', { when }), ...silence];
    const first = askedAt
      ? say('strip-asked-by-day-last', { who, when, askedAt: whenOf(askedAt, scene) })
      : say('strip-last', { who, when });
    return [first, lastTold(scene), ...silence];
  }
  const first = askedAt
    ? say('strip-asked-by-day', { who, when, next: next.name, askedAt: whenOf(askedAt, scene) })
    : say('strip-climbs', { who, when, next: next.name });
  return [first, ...pace, ...silence];
}

/** Who hears that every doctor was asked. */
function lastTold(scene: Scene): string {
  const worker = role(scene, 'worker');
  const isHeard = hears(scene, 'coordinator') && !scene.of.practice;
  return isHeard
    ? scene.say('strip-last-told', { worker, coordinator: role(scene, 'coordinator') })
    : scene.say('strip-last-unheard', { worker });
}

/** The pauses of an urgency's ladder as the programme has them. */
function paceOf(urgency: string, scene: Scene): readonly string[] {
  const { say } = scene;
  const ladder = scene.place.programme.urgencies[urgency];
  if (ladder === undefined) return [];
  const spans = ladder.climbMs.map((ms) => span(ms, scene));
  const last = spans.at(-1) ?? '';
  if (spans.length < 2) return [say(ladder.daytime ? 'strip-pace-by-day' : 'strip-pace', { pauses: last })];
  const pauses = say('strip-then', { pauses: spans.slice(0, -1).join(', '), last });
  return [say(ladder.daytime ? 'strip-paces-by-day' : 'strip-paces', { pauses })];
}

/** What the case's duty brings. */
function reminds(scene: Scene): readonly string[] {
  const { duty, of, place, say } = scene;
  if (of.practice) return [say('strip-no-reminder')];
  const who = names(toldAs(place, of, duty.owner, duty.dueAt, duty.rung), scene);
  const other = role(scene, duty.escalation);
  const when = whenOf(duty.dueAt, scene);
  const isAsked = duty.owner === 'doctor';
  const isHeard = hears(scene, duty.escalation);
  const first =
    duty.escalates && isHeard
      ? say(isAsked ? 'strip-asks-both' : 'strip-reminds-both', { who, when, other })
      : say(isAsked ? 'strip-asks' : 'strip-reminds', { who, when });
  const later = isHeard && !duty.escalates ? [laterOf(scene, other)] : [];
  return [first, ...later, ...(duty.what === 'receipt' ? ofParcel(scene) : [])];
}

/** When the escalation hears, where that is not with the next reminder. */
function laterOf(scene: Scene, other: string): string {
  const { duty, place, say } = scene;
  if (duty.escalateWithin === undefined) {
    return say('strip-reminds-then', { other, pause: span(durationOf(place.programme, duty.again), scene) });
  }
  const from = duty.since + durationOf(place.programme, duty.escalateWithin);
  return say('strip-reminds-from', { other, when: whenOf(from, scene) });
}

function ofParcel(scene: Scene): readonly string[] {
  const sender = scene.say('strip-sender', { worker: role(scene, 'worker') });
  return scene.duty.rung < 3 ? [sender, scene.say('strip-lost')] : [sender];
}

function hears({ place, of, now }: Scene, as: Role): boolean {
  return toldAs(place, of, as, now, 0).length > 0;
}

/** Who is meant by a role. Which doctor it will be is not known before. */
function role(scene: Scene, as: Role): string {
  const { place, of, now } = scene;
  const people = toldAs(place, of, as, now, 0);
  return as === 'doctor' && people.length > 0 ? scene.say('strip-a-doctor') : names(people, scene);
}

function names(people: readonly Person[], { say }: Scene): string {
  return people.length === 0 ? say('strip-nobody') : people.map((one) => one.name).join(', ');
}

/** The hour where the clinic is, with its day unless that is today. */
function whenOf(at: number, { of, place, now, say }: Scene): string {
  const { zone } = siteOf(place.programme, of.siteId);
  const [today, then] = [localTime(now, zone), localTime(at, zone)];
  const clock = clockWords(at, zone);
  if (today.day === then.day && today.month === then.month && today.year === then.year) return clock;
  return `${dayWordsAt(at, zone, say('strip-months').split(' '))} ${clock}`;
}

/** `10 min`, `4 h`, `7 days`. */
function span(ms: number, { say }: Scene): string {
  const minutes = Math.round(ms / 60_000);
  if (minutes < 120 && minutes !== 60) return say('strip-minutes', { count: minutes });
  const hours = Math.round(minutes / 60);
  return hours <= 72 ? say('strip-hours', { count: hours }) : say('strip-days', { count: Math.round(hours / 24) });
}
