/** The laboratory's desk: what has come, and what cannot be used. */
import { type Case, type Specimen, specimenOf } from '../../case/case.ts';
import { findCodes } from '../../case/code.ts';
import type { RejectReason } from '../../case/events.ts';
import { fluidsSent, slidesSent } from '../../case/parcel.ts';
import { toAsciiDigits } from '../../text/digits.ts';
import { readChoice } from '../answers/choice.ts';
import { countWrongCode, guessesCodes } from '../guesses.ts';
import type { Interpreter } from '../interpret.ts';
import type { Act, Matter } from '../moment.ts';
import { carrier, laboratoryPeople } from '../people.ts';
import { type Frame, idleFrame, type Question } from '../state.ts';
import type { Turn } from '../turn.ts';
import type { Person, World } from '../world.ts';
import { settleQuestion } from './close-question.ts';
import { codesIn, refuseCode, withoutCodes } from './codes.ts';
import { notOurs, saysNotOurs } from './laboratory-desk.ts';
import { parcelCame } from './lost-parcel.ts';
import { askWhetherItStands } from './stands.ts';

const rejectReasons: readonly RejectReason[] = ['no-name', 'not-the-same', 'broken', 'leaked-or-dried', 'missing'];

/** A specimen in the laboratory's hands, with its case. */
export interface InLaboratory {
  readonly of: Case;
  readonly specimen: Specimen;
}

/** The specimen that a code names, if it was posted to this person's laboratory; null for every other code alike. */
export function inLaboratory(turn: Turn, person: Person, code: string): InLaboratory | null {
  const of = turn.cases.find((one) => specimenOf(one, code) !== null);
  const specimen = of ? specimenOf(of, code) : null;
  const posted = specimen?.labId ?? null;
  const here = posted !== null && laboratoryPeople(turn.world, posted).some((one) => one.id === person.id);
  const busy = turn.threads.some((one) => one.caseId === of?.id);
  if (!of || !specimen || !here || (guessesCodes(turn) && !busy)) {
    countWrongCode(turn, person);
    return null;
  }
  turn.aboutCaseId = of.id;
  return { of, specimen };
}

function unknownCode(turn: Turn, person: Person, code: string): void {
  refuseCode(turn, person, code, 'laboratory.unknown-code');
}

/** Slides named behind a code: `4`, `x4`, `4 slides`; null = not said. More than two digits is no count. */
function slidesNamed(between: string): number | null {
  const found = /^[\s:=x*-]*(\d{1,2})(?!\d)/i.exec(between);
  return found ? Number(found[1]) : null;
}

/** `GOT 48291354 4`, several codes in one text. */
function got(turn: Turn, interpreter: Interpreter, rest: string): void {
  const person = interpreter.person;
  turn.disturbed = true;
  const plain = toAsciiDigits(rest);
  const found = findCodes(plain);
  if (found.length === 0) {
    turn.say(person, 'laboratory.which-code', { frame: null, caseId: null });
    return;
  }
  for (const [index, one] of found.entries()) {
    if (one.code === null) {
      turn.say(person, 'laboratory.wrong-code', { frame: null, caseId: null });
      continue;
    }
    const here = inLaboratory(turn, person, one.code);
    if (!here) {
      unknownCode(turn, person, one.code);
      continue;
    }
    receive(turn, interpreter, here, slidesNamed(plain.slice(one.to, found[index + 1]?.from)));
  }
}

function receive(turn: Turn, interpreter: Interpreter, { of, specimen }: InLaboratory, named: number | null): void {
  const { person } = interpreter;
  const where = { frame: null, caseId: of.id, item: specimen.id };
  // Said anew: whether more came than were sent is asked of the new number, if at all.
  dropAbout(turn, 'more-came', { of, specimen });
  if (specimen.receivedAt !== null && specimen.rejected === null && !isNewCount(specimen, named)) {
    turn.say(person, 'laboratory.got-already', where);
    return;
  }
  if (specimen.end !== null) {
    turn.say(person, 'laboratory.bad-closed', where);
    return;
  }
  const sent = slidesSent(specimen);
  // Fluid alone comes without a slide.
  if (named === 0 && (sent > 0 || fluidsSent(specimen).length === 0)) {
    turn.say(person, 'laboratory.nothing-in-it', where);
    interpreter.run('rejected', { caseId: of.id, item: specimen.id });
    return;
  }
  // Nobody counted: what the clinic sent is no count of what came.
  if (named === null && sent > 0) {
    turn.say(person, 'laboratory.how-many', where);
    return;
  }
  // Another patient's may be among them, or a finger slipped: the clinic hears of no number that nobody looked at twice.
  if (named !== null && named > sent) {
    interpreter.run('more-came', { caseId: of.id, item: specimen.id, vars: { slidesNamed: named } });
    return;
  }
  const slides = named ?? sent;
  const at = { now: turn.now, by: person.id, questions: turn.questions };
  turn.carryOut(came(at, { of, specimen }, slides), { ...idleFrame, item: specimen.id }, of.id);
  turn.say(person, slides === sent ? 'laboratory.got' : 'laboratory.got-other-count', where);
}

/** What a count sets going: it is recorded, what was asked about the parcel or the glass is over, and the clinic hears of it. */
function came(
  at: { readonly now: number; readonly by: string; readonly questions: readonly Question[] },
  { of, specimen }: InLaboratory,
  slides: number,
): readonly Act[] {
  const text = slides < slidesSent(specimen) ? 'laboratory.fewer-for-worker' : 'laboratory.received-for-worker';
  return [
    { do: 'record', event: { type: 'received', specimen: specimen.id, slides } },
    // What was asked about the glass ends first: it is not asked again of glass that is right.
    ...(specimen.rejected === null ? [] : putRight(at, of, specimen.id)),
    ...parcelCame(at, of),
    { do: 'notify', to: 'owner', text, lane: 'notice' },
  ];
}

/** The glass is right again: the clinic need not find the patient for it, and no doctor need say what becomes of it. */
function putRight(
  { now, by, questions }: Parameters<typeof came>[0],
  { id: caseId, ownerId }: Case,
  item: string,
): readonly Act[] {
  return [
    { do: 'post', personId: ownerId, what: { kind: 'run', flow: 'put-right', caseId, item, vars: {} } },
    ...questions
      .filter((one) => isOpenAboutGlass(one, caseId, item))
      .flatMap((one) => settleQuestion(one, { now, by, answer: 'put-right', tell: 'doctor.right-again' })),
  ];
}

const isOpenAboutGlass = (question: Question, caseId: string, item: string): boolean =>
  question.about === 'unusable' && question.caseId === caseId && question.item === item && question.answeredAt === null;

/** The laboratory looked again, as it was asked to, and counts otherwise. After a result the count is history. */
function isNewCount(specimen: Specimen, named: number | null): boolean {
  return named !== null && named > 0 && named !== specimen.receivedSlides && specimen.results.length === 0;
}

/** `BAD 48291354 no name` or `BAD 48291354 1`; without a reason it is asked for. */
function bad(turn: Turn, interpreter: Interpreter, rest: string): void {
  const person = interpreter.person;
  const { codes, wrong } = codesIn(rest);
  turn.disturbed = true;
  const code = codes[0];
  if (code === undefined) {
    const key = wrong.length > 0 ? 'laboratory.wrong-code' : 'laboratory.which-code';
    turn.say(person, key, { frame: null, caseId: null });
    return;
  }
  const here = inLaboratory(turn, person, code);
  if (saysNotOurs(turn, person, withoutCodes(rest))) {
    notOurs(turn, interpreter, code, here);
    return;
  }
  if (!here) {
    unknownCode(turn, person, code);
    return;
  }
  const { of, specimen } = here;
  if (specimen.end !== null) {
    turn.say(person, 'laboratory.bad-closed', { frame: null, caseId: of.id, item: specimen.id });
    return;
  }
  const options = rejectReasons.map((id, index) => ({
    id,
    reply: String(index + 1),
    words: turn.world.texts.words(person.locale, 'reject-reason', id),
  }));
  const read = readChoice(withoutCodes(rest), options);
  if (hasResult(specimen)) {
    askWhetherItStands(turn, interpreter, here, read.ok ? (read.value as RejectReason) : null);
    return;
  }
  if (!read.ok) {
    interpreter.run('rejected', { caseId: of.id, item: specimen.id });
    return;
  }
  turn.carryOut(rejection(turn.world, here, read.value as RejectReason), { ...idleFrame, item: specimen.id }, of.id);
  const noted = carrier(turn.world, of) ? 'rejected.noted' : 'rejected.noted-nobody-there';
  turn.say(person, noted, { frame: null, caseId: of.id, item: specimen.id });
}

/** Ends this person's conversations of a flow about a specimen. */
export function dropAbout(turn: Turn, flow: string, { of, specimen }: InLaboratory): void {
  const isAbout = (one: Frame): boolean => one.flow === flow && one.item === specimen.id;
  turn.threads = turn.threads.filter(({ caseId, frames }) => caseId !== of.id || !frames.some(isAbout));
}

/** A result is filed of this glass, and nothing was said against it since. */
const hasResult = (specimen: Specimen): boolean => specimen.results.length > 0 && specimen.rejected === null;

/** What a refusal sets going: the clinic looks for the patient the same day, the doctors know. */
export function rejection(world: World, { of, specimen }: InLaboratory, reason: RejectReason): readonly Act[] {
  const who = carrier(world, of);
  const run = { kind: 'run', flow: 'unusable', caseId: of.id, item: specimen.id, vars: {}, plain: 'bad' } as const;
  // Nobody is asked to find the patient while nobody of the clinic is on the line.
  const text = who ? 'laboratory.bad-for-doctor' : 'laboratory.bad-nobody-there';
  const readBack = { type: 'read-back-dropped', specimen: specimen.id, why: 'replaced' } as const;
  return [
    ...(specimen.readBack ? [{ do: 'record', event: readBack } as const] : []),
    { do: 'record', event: { type: 'rejected', specimen: specimen.id, reason } },
    { do: 'notify', to: 'doctors', text, lane: 'notice', item: specimen.id },
    who
      ? { do: 'post', personId: who.id, what: run }
      : { do: 'notify', to: 'coordinators', text, lane: 'notice', item: specimen.id },
  ];
}

export const receipt: Matter = {
  commands: {
    GOT: { roles: ['lab'], run: got },
    BAD: { roles: ['lab'], run: bad },
  },
  decisions: {
    'clinic-there': { outcomes: ['yes', 'no'], decide: (m) => (m.case && carrier(m.world, m.case) ? 'yes' : 'no') },
    'can-be-counted': {
      outcomes: ['yes', 'no'],
      decide: (m) => (m.specimen?.end === null && m.specimen.results.length === 0 ? 'yes' : 'no'),
    },
    'has-result': { outcomes: ['yes', 'no'], decide: (m) => (hasResult(m.specimen!) ? 'yes' : 'no') },
    // The names were put right meanwhile, or somebody else ended it.
    'still-unusable': {
      outcomes: ['yes', 'no', 'over'],
      decide: (m) => (m.specimen?.end != null ? 'over' : m.specimen?.rejected ? 'yes' : 'no'),
    },
  },
  recorders: {
    'so-many-came': (m) =>
      came(
        { now: m.now, by: m.person.id, questions: m.questions },
        { of: m.case!, specimen: m.specimen! },
        m.frame.vars.slidesNamed as number,
      ),
    'reject-reason': (m) => [{ do: 'vars', vars: { reason: m.answer } }],
    'rejected-as-said': (m) =>
      rejection(m.world, { of: m.case!, specimen: m.specimen! }, m.frame.vars.reason as RejectReason),
    'unusable-over': (m) =>
      m.case ? [{ do: 'end-threads', caseId: m.case.id, item: m.frame.item, traits: { endsWhen: 'put-right' } }] : [],
    // What was asked of the doctors when the patient could not be found is answered with that.
    'end-unusable': (m) => [
      { do: 'record', event: { type: 'specimen-closed', specimen: m.specimen!.id, end: 'not-usable' } },
      ...m.questions
        .filter((one) => isOpenAboutGlass(one, m.case!.id, m.specimen!.id))
        .flatMap((question) =>
          settleQuestion(question, {
            now: m.now,
            by: m.person.id,
            answer: 'come-again',
            tell: 'unusable.comes-for-doctor',
          }),
        ),
    ],
    'end-not-found': (m) => [
      { do: 'record', event: { type: 'specimen-closed', specimen: m.specimen!.id, end: 'not-found' } },
    ],
  },
};
