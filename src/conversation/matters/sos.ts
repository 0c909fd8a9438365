/** SOS: first aid before any question, the doctor at once, an end only by somebody who has read our text. */

import { roles } from '../../case/roles.ts';
import { RECHECK_MINUTES, SOS_EVENTS, type SosEvent } from '../../clinical/adverse-events.ts';
import { alarmDigits } from '../alarm-digits.ts';
import { secretWidthOf } from '../guesses.ts';
import { type Act, type Matter, type Moment, record } from '../moment.ts';
import { personById } from '../people.ts';
import { durationOf, siteOf } from '../programme.ts';
import { alarmsOf, raiseFurther, tellAsked } from './alarm-told.ts';
import { settleQuestion } from './close-question.ts';
import { clockText, codeText, readerZone } from './common.ts';
import { leadText } from './lead.ts';
import { raiseAlarm } from './raise-alarm.ts';
import { stickValues } from './stick-words.ts';
import { whoText } from './summary.ts';

/** Well again, proven by its digits: what is still asked of the doctors is settled. */
function settleAlarms(m: Moment): readonly Act[] {
  return alarmsOf(m)
    .filter((one) => one.answeredAt === null)
    .flatMap((one) => settleQuestion(one, { now: m.now, by: m.person.id, answer: 'over' }));
}

function onCase(m: Moment, event: Parameters<typeof record>[0]): readonly Act[] {
  return m.case ? [record(event)] : [];
}

/** The sign as the frame holds it, '' before it was said. */
function signOf(m: Moment): string {
  const sign = m.frame.vars.sign;
  return typeof sign === 'string' ? sign : '';
}

function numberVar(m: Moment, name: string, otherwise: number): number {
  const value = m.frame.vars[name];
  return typeof value === 'number' ? value : otherwise;
}

/** Looked at again from now on, as first aid has it. */
function fromNow(m: Moment): readonly Act[] {
  return [{ do: 'vars', vars: { signAt: m.now, checksBefore: numberVar(m, 'check', 0) } }];
}

/** When the patient is asked about next: as first aid for the sign has it, at least a minute from now. */
function nextCheckAt(m: Moment): number {
  const known = SOS_EVENTS.find((one) => one === signOf(m)) ?? null;
  const made = numberVar(m, 'check', 0) - numberVar(m, 'checksBefore', 0);
  const minutes = known === null ? undefined : RECHECK_MINUTES[known][made];
  const later = m.now + durationOf(m.world.programme, 'sos-recheck-later');
  const planned = minutes === undefined ? later : numberVar(m, 'signAt', m.now) + minutes * 60_000;
  return Math.max(planned, m.now + 60_000);
}

/** Tag and code, as far as there are any. */
function tagCodeText(m: Moment): string {
  return [m.case?.tag ?? '', codeText(m.specimen ?? m.case?.specimens[0] ?? null)].join(' ').trim();
}

/** Checks after which a silent clinic is no longer asked by text. Our convention: four hours of quarters. */
const mostSilentChecks = 16;

const raised = (m: Moment, sign: string): readonly Act[] => onCase(m, { type: 'sos-raised', sign });

export const sos: Matter = {
  commands: { SOS: { roles, run: raiseAlarm } },
  decisions: {
    'sos-age': {
      outcomes: ['fresh', 'old'],
      decide: (m) => (typeof m.frame.vars.oldAt === 'number' ? 'old' : 'fresh'),
    },
    'sos-sign-known': { outcomes: ['known', 'unknown'], decide: (m) => (signOf(m) === '' ? 'unknown' : 'known') },
    'sos-silence': {
      outcomes: ['again', 'enough'],
      decide: (m) => (numberVar(m, 'check', 0) < mostSilentChecks ? 'again' : 'enough'),
    },
  },
  recorders: {
    'sos-raised': (m) => [
      ...raised(m, 'not-said'),
      { do: 'vars', vars: alarmDigits(m.draw, m.frame.vars, secretWidthOf(m)) },
    ],
    'sos-old-told': (m) => tellAsked(m, 'sos.old-for-doctor'),
    'sos-sign': (m) => {
      const vars = { sign: String(m.answer), signAt: m.now, checksBefore: numberVar(m, 'check', 0) };
      const said = { ...m, frame: { ...m.frame, vars: { ...m.frame.vars, ...vars } } };
      const answered = { type: 'answered', field: 'sos-sign', item: null, value: m.answer } as const;
      return [
        ...raised(m, String(m.answer)),
        ...onCase(m, answered),
        { do: 'vars', vars },
        ...tellAsked(said, 'sos.sign-for-doctor', { sign: String(m.answer) }),
      ];
    },
    'sos-check': (m) => [{ do: 'vars', vars: { check: numberVar(m, 'check', 0) + 1 } }],
    'sos-same': (m) =>
      onCase(m, {
        type: 'noted',
        words: m.world.texts.render(m.person.locale, 'history.sos-same', () => String(numberVar(m, 'check', 1))),
      }),
    'sos-worse': (m) => [
      ...raised(m, 'worse'),
      ...fromNow(m),
      ...tellAsked(m, 'sos.worse-for-doctor'),
      ...raiseFurther(m),
    ],
    'sos-cannot': (m) => [
      ...onCase(m, { type: 'noted', words: m.world.texts.render(m.person.locale, 'history.sos-cannot-go', () => '') }),
      ...fromNow(m),
      ...tellAsked(m, 'sos.cannot-for-doctor'),
      ...raiseFurther(m),
    ],
    'sos-silent': (m) => tellAsked(m, 'sos.silent-for-doctor'),
    'sos-over': (m) => [
      ...onCase(m, { type: 'sos-over', outcome: 'well-again' }),
      ...tellAsked(m, 'sos.over-for-doctor'),
      ...settleAlarms(m),
    ],
    'sos-handed-over': (m) => [
      ...onCase(m, { type: 'sos-over', outcome: 'handed-over' }),
      ...tellAsked(m, 'sos.handed-over-for-doctor'),
    ],
    'stick-over': (m) => [
      ...onCase(m, { type: 'sos-over', outcome: 'needle-stick-advised' }),
      { do: 'vars', vars: { stick: m.answer ?? 'unknown' } },
      {
        do: 'post',
        personId: m.person.id,
        what: { kind: 'tell', key: 'sos.stick-reminder', caseId: null, item: null, vars: {}, lane: 'sos' },
        at: m.now + (RECHECK_MINUTES['needle-stick'][0] ?? 0) * 60_000,
      },
    ],
  },
  instants: { 'sos-next-check': nextCheckAt },
  values: {
    tagCode: {
      of: (m) => {
        const named = tagCodeText(m);
        return named === '' ? m.world.texts.render(m.person.locale, 'sos.nobody-named', () => '') : named;
      },
      sample: 'AK 4829 1354',
    },
    leadCode: { of: (m) => (tagCodeText(m) === '' ? '' : `${tagCodeText(m)}: `), sample: 'AK 4829 1354: ' },
    leadTag: { of: (m) => (m.case ? `${m.case.tag} ` : ''), sample: 'AK ' },
    lead: { of: leadText, sample: 'AK: ' },
    sosTime: {
      of: (m) => {
        // A number in the frame, digits in a text to somebody else.
        const at = Number(m.frame.vars.oldAt ?? 0);
        return at > 0 ? clockText(at, readerZone(m)) : '';
      },
      sample: '10:42',
    },
    recheckTime: { of: (m) => clockText(nextCheckAt(m), readerZone(m)), sample: '10:57' },
    sosWho: {
      of: (m) => {
        if (m.case) return whoText(m);
        const who = askerOf(m)?.name ?? '';
        return m.world.texts.render(m.person.locale, 'sos.no-patient', (name) => (name === 'who' ? who : ''));
      },
      sample: 'AK F 1982 P20w 4829 1354',
    },
    sosSite: {
      of: (m) => {
        const from = m.frame.vars.fromSite;
        const without = askerOf(m)?.siteId ?? (typeof from === 'string' ? from : m.person.siteId);
        return siteOf(m.world.programme, m.case?.siteId ?? without).name;
      },
      sample: 'KESU CLINIC',
    },
    sosSigns: {
      of: (m) => {
        const sign = m.case?.sos?.sign ?? '';
        if (sign === 'worse') return ` ${m.world.texts.label(m.person.locale, 'sos-now', 'worse')}.`;
        return isSign(sign) ? ` ${m.world.texts.label(m.person.locale, 'sos-sign', sign)}.` : '';
      },
      sample: ' bleeding, swelling.',
    },
    cryTime: {
      of: (m) => clockText(m.now + durationOf(m.world.programme, 'cry-answer'), readerZone(m)),
      sample: '10:44',
    },
    sign: {
      of: (m) => m.world.texts.label(m.person.locale, 'sos-sign', signOf(m)),
      sample: 'bleeding, swelling',
      fromVar: true,
    },
    ...stickValues,
  },
};

function isSign(sign: string): sign is SosEvent {
  return SOS_EVENTS.some((one) => one === sign);
}

/** Who opened the question that is being shown. */
function askerOf(m: Moment) {
  const id = m.frame.vars.question;
  return personById(m.world, m.questions.find((one) => one.id === id)?.askedBy ?? null);
}
