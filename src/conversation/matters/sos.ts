/** SOS: first aid before any question, the doctor at once, an end only by somebody who has read our text. */
import { answerKey } from '../../case/case.ts';
import { FIRST_AID, SOS_EVENTS, type SosEvent } from '../../clinical/adverse-events.ts';
import { askingThread, Interpreter } from '../interpret.ts';
import { type Act, type Matter, type Moment, record } from '../moment.ts';
import { networkAtOf } from '../parts.ts';
import { ladder, personById } from '../people.ts';
import { durationOf, siteOf } from '../programme.ts';
import type { Question, Thread } from '../state.ts';
import type { Turn } from '../turn.ts';
import type { Person } from '../world.ts';
import { caseNamed, codesIn } from './codes.ts';
import { clockText, codeText, zoneOf } from './common.ts';
import { leadText } from './lead.ts';
import { stickValues } from './stick-words.ts';
import { summaryText } from './summary.ts';

const alarmQuestion = {
  urgency: 'now',
  about: 'sos',
  options: [
    { id: 'call-me', reply: '1', care: true },
    { id: 'go-to-hospital', reply: '2', care: true },
  ],
} as const;

/** Statuses in which the patient is with the worker. */
const present: ReadonlySet<string> = new Set(['sampling', 'labelling', 'aftercare']);

/** Starts the alarm in the thread at hand, or joins the one that is open on this phone. */
function raise(turn: Turn, interpreter: Interpreter, text: string): void {
  const open = turn.threads.find((one) => one.frames.some((frame) => frame.flow === 'sos'));
  if (open) {
    joinAlarm(turn, interpreter, open);
    return;
  }
  const networkAt = networkAtOf(turn.event);
  const old = networkAt !== null && turn.now - networkAt > durationOf(turn.world.programme, 'sos-old');
  const vars = { fromSite: interpreter.person.siteId, ...(old ? { oldAt: networkAt } : {}) };
  const code = codesIn(text).codes[0];
  const named = code === undefined ? null : caseNamed(turn, interpreter.person, code);
  const under = named ? (turn.threads.find((one) => one.caseId === named.id) ?? null) : threadAtHand(turn);
  turn.aboutCaseId = named?.id ?? under?.caseId ?? null;
  if (under) interpreter.run('sos', { vars, onThread: under.id, item: under.frames.at(-1)?.item ?? null });
  else interpreter.run('sos', { vars, caseId: named?.id ?? null });
}

/** The matter that is being asked about; where that is no patient, the patient whose needle was out last. */
function threadAtHand(turn: Turn): Thread | null {
  const last = askingThread(turn) ?? turn.threads.at(-1) ?? null;
  // An alarm beside a practice case is a real one, about somebody else.
  const current = turn.caseOf(last?.caseId ?? null)?.practice ? null : last;
  if (!last || current?.caseId != null) return current;
  const withPatient = [...turn.threads].reverse().find((one) => {
    const of = turn.caseOf(one.caseId);
    return of !== null && !of.practice && present.has(of.status);
  });
  return withPatient ?? current;
}

/** Sent again while an alarm is open: first aid again; the doctor again only when the first question was answered. */
function joinAlarm(turn: Turn, interpreter: Interpreter, open: Thread): void {
  const frame = open.frames.find((one) => one.flow === 'sos')!;
  turn.aboutCaseId = open.caseId;
  turn.say(interpreter.person, 'sos.first-aid', { frame, caseId: open.caseId, lane: 'sos' });
  const moment = turn.moment(frame, open.caseId, interpreter.person);
  if (alarms(moment).some((one) => one.answeredAt === null)) {
    turn.carryOut(tellAsked(moment, 'sos.again-for-doctor'), frame, open.caseId);
  } else turn.openQuestion(alarmQuestion, open.caseId, frame.item);
  if (open.caseId !== null) turn.record(open.caseId, { type: 'noted', words: 'SOS' });
  interpreter.raise(open.id);
  // Between two checks: what it is now may be something else, with first aid of its own.
  if (open.ask === null && open.frames.at(-1)?.id === frame.id) interpreter.enter(open.id, 'sign');
  else interpreter.show(open.id);
}

/**
 * The phone of an alarm left the line and nobody took the alarm over: nothing more is asked there, and the doctors hear
 * that they must phone. Their question stays open.
 */
export function leaveAlarm(turn: Turn, person: Person): void {
  const open = turn.threads.find((one) => one.frames.at(-1)?.flow === 'sos');
  const frame = open?.frames.at(-1);
  if (!open || !frame) return;
  turn.carryOut(tellAsked(turn.moment(frame, open.caseId, person), 'sos.silent-for-doctor'), frame, open.caseId);
  new Interpreter(turn, person).end(open.id);
}

/** The questions of this alarm: of its case, or the one that its frame opened. */
function alarms(m: Moment): readonly Question[] {
  const caseId = m.case?.id ?? null;
  // Without a case one phone has one alarm at a time; one that a doctor took back has a new id.
  const mine = (one: Question): boolean =>
    one.id === m.frame.vars.question ||
    (one.caseId === caseId && (caseId !== null || (one.askedBy === m.person.id && one.answeredAt === null)));
  return m.questions.filter((one) => one.about === 'sos' && mine(one));
}

/** Tells the doctors who know of the alarm; nobody asked yet: the first of the ladder. */
function tellAsked(m: Moment, key: string): readonly Act[] {
  const asked = new Set(alarms(m).flatMap((one) => one.askedOf));
  const first = ladder(m.world, m.now)[0];
  if (asked.size === 0 && first) asked.add(first.id);
  const vars = { ...m.frame.vars, sign: signOf(m), who: m.person.name };
  return [...asked].map((personId) => ({
    do: 'post',
    personId,
    what: { kind: 'tell', key, caseId: m.case?.id ?? null, item: m.frame.item, vars, lane: 'sos' },
  }));
}

/** Well again by its secret number: what is still asked of the doctors is settled. */
function settleAlarms(m: Moment): readonly Act[] {
  return alarms(m)
    .filter((one) => one.answeredAt === null)
    .map((one) => ({
      do: 'put-question',
      question: { ...one, answeredAt: m.now, answeredBy: m.person.id, answer: 'over' },
    }));
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

/** When the patient is asked about next: as first aid for the sign has it, at least a minute from now. */
function nextCheckAt(m: Moment): number {
  const known = SOS_EVENTS.find((one) => one === signOf(m)) ?? null;
  const made = numberVar(m, 'check', 0) - numberVar(m, 'checksBefore', 0);
  const minutes = known === null ? undefined : FIRST_AID[known].recheckMinutes[made];
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

/** Check numbers shown, so that their answers keep two digits. */
const checkNumbers = 9;

const raised = (m: Moment, sign: string): readonly Act[] => onCase(m, { type: 'sos-raised', sign });

export const sos: Matter = {
  commands: { SOS: { roles: ['worker', 'doctor', 'lab', 'coordinator'], run: raise } },
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
    'sos-raised': (m) => raised(m, 'not-said'),
    'sos-old-told': (m) => tellAsked(m, 'sos.old-for-doctor'),
    'sos-sign': (m) => {
      const vars = { sign: String(m.answer), signAt: m.now, checksBefore: numberVar(m, 'check', 0) };
      const said = { ...m, frame: { ...m.frame, vars: { ...m.frame.vars, ...vars } } };
      const answered = { type: 'answered', field: answerKey('sos-sign', null), item: null, value: m.answer } as const;
      return [
        ...raised(m, String(m.answer)),
        ...onCase(m, answered),
        { do: 'vars', vars },
        ...tellAsked(said, 'sos.sign-for-doctor'),
      ];
    },
    'sos-check': (m) => [{ do: 'vars', vars: { check: numberVar(m, 'check', 0) + 1 } }],
    'sos-same': (m) => onCase(m, { type: 'noted', words: `SOS check ${checkText(m)}: same` }),
    'sos-worse': (m) => {
      const open = alarms(m).filter((one) => one.answeredAt === null);
      const again: readonly Act[] =
        open.length === 0
          ? [{ do: 'question', question: alarmQuestion }]
          : open.flatMap((one): readonly Act[] => [
              // A promise of before does not hold back the next rung now.
              { do: 'put-question', question: { ...one, promiseUntil: null } },
              { do: 'post', personId: null, what: { kind: 'climb', questionId: one.id, rung: one.rung + 1 } },
            ]);
      const vars = { signAt: m.now, checksBefore: numberVar(m, 'check', 0) };
      return [...raised(m, 'worse'), { do: 'vars', vars }, ...tellAsked(m, 'sos.worse-for-doctor'), ...again];
    },
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
        at: m.now + (FIRST_AID['needle-stick'].recheckMinutes[0] ?? 0) * 60_000,
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
        return at > 0 ? clockText(at, zoneOf(m)) : '';
      },
      sample: '10:42',
    },
    recheckTime: { of: (m) => clockText(nextCheckAt(m), zoneOf(m)), sample: '10:57' },
    sosCheck: { of: checkText, sample: '1' },
    sosWho: {
      of: (m) => {
        const summary = summaryText(m);
        if (summary !== '') return summary;
        const who = askerOf(m)?.name ?? '';
        return m.world.texts.render(m.person.locale, 'sos.no-patient', (name) => (name === 'who' ? who : ''));
      },
      sample: 'AK F 1982 4829 1354; R 22x15x14 solid dark, jagged; TSH normal; Plain rule sample, ACR TR5 sample',
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
    sign: { of: (m) => m.world.texts.label(m.person.locale, 'sos-sign', signOf(m)), sample: 'bleeding, swelling' },
    ...stickValues,
  },
};

function isSign(sign: string): sign is SosEvent {
  return SOS_EVENTS.some((one) => one === sign);
}

/** Number of the check, 1 to 9 and round again. */
function checkText(m: Moment): string {
  return String(((Math.max(1, numberVar(m, 'check', 1)) - 1) % checkNumbers) + 1);
}

/** Who opened the question that is being shown. */
function askerOf(m: Moment) {
  const id = m.frame.vars.question;
  return personById(m.world, m.questions.find((one) => one.id === id)?.askedBy ?? null);
}
