/** The site may know the patient of a new case already: asked once, and two open cases of one patient are made one. */
import {
  type AnswerKey,
  type AnswerValue,
  answered,
  answeredKeys,
  type CaseField,
  isOfNodule,
} from '../../case/answers.ts';
import { joinedLists, signFields } from '../../case/asked-parts.ts';
import { answerOf, type Case } from '../../case/case.ts';
import { formatCode } from '../../case/code.ts';
import type { Json } from '../../case/events.ts';
import { type AlikeCase, alikeCases, couldBeSamePatient } from '../../case/same-patient.ts';
import { dayYearWords } from '../../text/time-words.ts';
import { type Act, type Matter, type Moment, record } from '../moment.ts';
import { durationOf } from '../programme.ts';
import { dayText, localTime, parseDay } from '../schedule.ts';
import { broughtAlong, endBooked, goOnWith, isBeforeNeedle, mergedOutcome } from './again.ts';
import { isOfEarlierDay } from './another-day.ts';
import { listAnswer, textAnswer, zoneOf } from './common.ts';
import { lastAlarmAt } from './hindrances.ts';

/**
 * Cases that could be of this case's patient, the one to ask about first: an open one without a needle, then the newest.
 * A case that an earlier one of them goes before is left out: it is the same patient's.
 */
function alikeNow(moment: Moment): readonly Case[] {
  const of = moment.case;
  if (!of || of.earlierCaseId !== null) return [];
  const since = moment.now - durationOf(moment.world.programme, 'known-patient');
  const found = moment.cases.filter((one) => {
    if (one.id === of.id || one.closed === mergedOutcome) return false;
    if (one.status === 'closed' && one.statusAt < since) return false;
    return couldBe(moment, of, one);
  });
  const before = new Set(found.map((one) => one.earlierCaseId));
  const rank = (one: Case): number => (isBeforeNeedle(one) ? 0 : 1);
  return found
    .filter((one) => !before.has(one.id))
    .sort((one, other) => rank(one) - rank(other) || other.openedAt - one.openedAt);
}

function couldBe(moment: Moment, one: Case, other: Case): boolean {
  return couldBeSamePatient(one, other, (at) => localTime(at, zoneOf(moment)).year);
}

function alikeRef(moment: Moment, of: Case): AlikeCase {
  const code = of.specimens[0]?.code ?? null;
  return { caseId: of.id, code, on: dayText(localTime(of.decided?.at ?? of.openedAt, zoneOf(moment))) };
}

const answer = <F extends CaseField>(field: F, value: AnswerValue<F>): Act => record(answered(field, value));

function decideKnown(moment: Moment): { readonly outcome: 'no' | 'seen' | 'open'; readonly acts: readonly Act[] } {
  const alike = alikeNow(moment);
  const first = alike[0];
  const asked = moment.case ? alikeCases(moment.case)[0]?.caseId : undefined;
  // Asked about this one already: the answer stands.
  const answered = first !== undefined && asked === first.id && textAnswer(moment, 'same-patient') !== '';
  if (!first || answered) return { outcome: 'no', acts: [] };
  const refs = alike.slice(0, mostAlike).map((one) => ({ ...alikeRef(moment, one) }));
  // Noisy breathing waits for no question: the advice comes at once, and the doctor hears that it may be the same patient.
  const pressing = listAnswer(moment, 'dangerSigns').includes('stridor');
  const stale = moment.case && answerOf(moment.case, 'same-patient') != null ? [answer('same-patient', null)] : [];
  const asks = isBeforeNeedle(first) ? 'open' : 'seen';
  return { outcome: pressing ? 'no' : asks, acts: [answer('alike', refs), ...stale] };
}

/** Cases that are remembered as perhaps of the same patient. */
const mostAlike = 3;

/** The case that the worker was asked about, as it stands now; null when it is not at hand any more. */
function askedAbout(moment: Moment): Case | null {
  const ref = moment.case ? alikeCases(moment.case)[0] : undefined;
  return moment.cases.find((one) => one.id === ref?.caseId) ?? null;
}

/** Nothing of an earlier case is known any more: it was said again who the patient is. */
function unlinked(of: Case): readonly Act[] {
  const known = (['earlier', 'earlier-sizes', 'alarm-before'] as const).filter((field) => answerOf(of, field) != null);
  const link = of.earlierCaseId === null ? [] : [record({ type: 'linked', earlierCaseId: null })];
  return [...link, ...known.map((field) => answer(field, null))];
}

/** For a case whose patient is named anew: what was asked about the one named before. */
export function nobodyYet(of: Case): readonly Act[] {
  return answerOf(of, 'alike') == null && answerOf(of, 'same-patient') == null ? [] : forgotten(of);
}

/**
 * The same for a name corrected at the end: one that still fits the patient who was asked about changes nothing; other
 * initials or another sex end a link by code too.
 */
export function namedAnew(moment: Moment, who: Readonly<Record<string, Json>>): readonly Act[] {
  const of = moment.case!;
  const said = ['initials', 'sex', 'birthYear', 'ageYears'].map((name) => [`patient.${name}`, who[name] ?? null]);
  const answers = { ...of.answers, ...Object.fromEntries(said) };
  const named = { ...of, answers, answeredAt: { ...of.answeredAt, 'patient.ageYears': moment.now } };
  const before = askedAbout(moment);
  if (before && couldBe(moment, named, before)) return [];
  const other = (['patient.initials', 'patient.sex'] as const).some((key) => answerOf(of, key) !== answers[key]);
  return other ? forgotten(of) : nobodyYet(of);
}

function forgotten(of: Case): readonly Act[] {
  const asked = (['alike', 'same-patient'] as const).filter((field) => answerOf(of, field) != null);
  return [...unlinked(of), ...asked.map((field) => answer(field, null))];
}

function samePatient(moment: Moment): readonly Act[] {
  const before = askedAbout(moment);
  if (!before) return [answer('same-patient', 'unknown')];
  const linked = record({ type: 'linked', earlierCaseId: before.id });
  return [linked, ...broughtAlong(moment, before).map((event) => record(event))];
}

/** Nobody knows: another patient, but an alarm of this day counts all the same, and the doctor is told. */
function perhapsSame(moment: Moment): readonly Act[] {
  const before = askedAbout(moment);
  const alarm = before && lastAlarmAt(before, moment.now);
  return [...unlinked(moment.case!), ...(alarm === null ? [] : [answer('alarm-before', alarm)])];
}

const ofBleeding: readonly CaseField[] = ['otherThinner', 'thinnerKind', 'inr', 'platelets', 'ivAntiplateletHours'];
const aboutLink: ReadonlySet<AnswerKey> = new Set<AnswerKey>([
  'alike',
  'same-patient',
  'earlier',
  'earlier-sizes',
  'alarm-before',
]);
/** Said of a decision, not of the patient: whoever said yes saw other findings, so it is decided and asked anew. */
const aboutDecision: ReadonlySet<AnswerKey> = new Set<AnswerKey>([
  ...(['findings-check', 'asked-anew', 'go-ahead', 'left', 'referral-day'] as const),
  ...(['doctor-allows', 'needle-allowed', 'alarm-allowed', 'drain'] as const),
]);
const nameFields = ['patient.initials', 'patient.sex', 'patient.birthYear', 'patient.ageYears'] as const;
const isName: ReadonlySet<AnswerKey> = new Set(nameFields);

/**
 * What was said with the new entry goes into the open case: the newer word counts, nodules as a whole. What is a sign or a
 * risk in either stays one; the read-back shows it all.
 */
function saidAnew(from: Case, into: Case, stale: readonly CaseField[]): readonly Act[] {
  const said = answeredKeys(from)
    .filter((key) => from.answers[key] !== null && !aboutLink.has(key) && !isName.has(key) && !aboutDecision.has(key))
    .map((key) => [key, from.answers[key] ?? null] as const);
  const put = (key: AnswerKey, value: Json): Act => {
    const [, item = null, field = key] = /^([ns]\d+)\.(.+)$/.exec(key) ?? [];
    return { do: 'record', event: { type: 'answered', field, item, value }, caseId: into.id };
  };
  const ofNodules = (key: AnswerKey): boolean => key === 'nodules' || isOfNodule(key);
  const replaced = said.some(([key]) => ofNodules(key)) ? answeredKeys(into).filter(ofNodules) : [];
  const undone = said.some(([key]) => key === 'bleeding') ? ofBleeding.filter((key) => key in into.answers) : [];
  const forget = [...replaced, ...undone].filter((key) => into.answers[key] !== null).map((key) => put(key, null));
  // Signs of another day stay signs, although their questions are asked again.
  const forgotten = new Set<string>(stale.filter((field) => field !== 'dangerSigns'));
  const before = Object.fromEntries(Object.entries(into.answers).filter(([key]) => !forgotten.has(key)));
  const lists = joinedLists(before, from.answers);
  const lump = (of: Case): readonly Json[] => (Array.isArray(of.answers.lump) ? of.answers.lump : []);
  return [
    ...forget,
    ...said.map(([key, value]) => {
      if (key === 'lump') return put(key, [...new Set([...lump(into), ...lump(from)])]);
      return put(key, lists[key] ?? value);
    }),
  ];
}

/** Of the questions about the findings, and of a day on which the patient would come. */
function letGo(caseId: string): readonly Act[] {
  const traits = [{ carries: 'findings' }, { endsWhen: 'here-again' }] as const;
  return traits.map((one) => ({ do: 'end-threads', caseId, traits: one }));
}

function closeMerged(moment: Moment): readonly Act[] {
  return [record({ type: 'closed', outcome: mergedOutcome }), { do: 'case', caseId: askedAbout(moment)!.id }];
}

/** The open case has not been decided: its questions go on here, with what has just been said. */
function joinOpen(moment: Moment): readonly Act[] {
  const open = askedAbout(moment)!;
  const { person } = moment;
  const own = open.ownerId === person.id;
  const over = { kind: 'run', flow: 'let-go', caseId: open.id, item: null, vars: { who: person.name } } as const;
  const taken: readonly Act[] = [
    { do: 'record', event: { type: 'taken-over', ownerId: person.id }, caseId: open.id },
    { do: 'post', personId: open.ownerId, what: over, caseId: open.id },
  ];
  // Danger signs of another day are asked again.
  const old = isOfEarlierDay(moment, open, signFields);
  const stale = old ? signFields.filter((field) => answerOf(open, field) != null) : [];
  return [
    ...stale.map((field): Act => ({ do: 'record', event: answered(field, null), caseId: open.id })),
    ...saidAnew(moment.case!, open, stale),
    ...(own ? [] : taken),
    { do: 'end-threads', caseId: open.id, traits: { carries: 'findings' } },
    ...closeMerged(moment),
  ];
}

/** `4829 1354 of 4 MAR 2029`; the day alone where no code was issued. */
function refWords(moment: Moment, { code, on }: AlikeCase): string {
  const day = parseDay(on);
  const months = moment.world.texts.months(moment.person.locale);
  const words = day ? `${dayYearWords(day, months)}` : on;
  const key = code === null ? 'new.alike-of-day' : 'new.alike-of-code';
  const values: Readonly<Record<string, string>> = { shownCode: code === null ? '' : formatCode(code), day: words };
  return moment.world.texts.render(moment.person.locale, key, (name) => values[name] ?? '');
}

/** For the doctor: the cases that could be of the same patient, where nobody knows; '' otherwise. */
export function perhapsText(moment: Moment): string {
  const refs = moment.case ? alikeCases(moment.case) : [];
  const said = textAnswer(moment, 'same-patient');
  const open = said === 'another' ? refs.slice(1) : said === 'same' ? [] : refs;
  if (open.length === 0) return '';
  const words = [...new Set(open.map((one) => refWords(moment, one)))].join(', ');
  return moment.world.texts.render(moment.person.locale, 'new.perhaps-same', () => words);
}

export const knownPatient: Matter = {
  decisions: {
    'known-patient': { outcomes: ['no', 'seen', 'open'], decide: decideKnown },
    'open-one': {
      outcomes: ['undecided', 'decided', 'past'],
      decide: (m) => {
        const open = askedAbout(m);
        if (!open || !isBeforeNeedle(open)) return 'past';
        const asks = open.status === 'findings' && open.frozen === null && open.sos === null;
        return asks ? 'undecided' : 'decided';
      },
    },
    'carried-by-other': {
      outcomes: ['yes', 'no'],
      decide: (m) => (m.case && m.case.ownerId !== m.person.id ? 'yes' : 'no'),
    },
  },
  recorders: {
    'same-patient': samePatient,
    'another-patient': (m) => unlinked(m.case!),
    'perhaps-same': perhapsSame,
    'join-open': joinOpen,
    'go-on-open': (m) => [...goOnWith(m, askedAbout(m)!), ...closeMerged(m)],
    'end-earlier': (m) => {
      const before = m.cases.find((one) => one.id === m.case?.earlierCaseId);
      return before ? endBooked(m, before) : [];
    },
    'let-go': (m) => (m.case ? letGo(m.case.id) : []),
  },
  values: {
    alikeRef: {
      of: (m) => {
        const ref = m.case ? alikeCases(m.case)[0] : undefined;
        return ref ? refWords(m, ref) : '';
      },
      sample: '4829 1354 of 12 MAR 2029',
    },
  },
};
