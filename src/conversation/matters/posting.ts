/** The parcel: what may go, what the laboratory is told, when a receipt is due. */

import { answerOf, type Case, type Specimen, specimenOf } from '../../case/case.ts';
import { formatCode } from '../../case/code.ts';
import { fluidsSent, manifest, needleWasIn, type ParcelLine, readyToPost, slidesSent } from '../../case/parcel.ts';
import type { TextKey } from '../../generated/text-keys.ts';
import { packedScreens } from '../../text/screens.ts';
import type { Interpreter } from '../interpret.ts';
import { topFrame } from '../interpret.ts';
import { type Matter, type Moment, record } from '../moment.ts';
import { laboratoryPeople } from '../people.ts';
import { durationOf, laboratoryOf } from '../programme.ts';
import { localTime } from '../schedule.ts';
import { idleFrame } from '../state.ts';
import { traitsOf } from '../traits.ts';
import type { Turn } from '../turn.ts';
import type { Person } from '../world.ts';
import { caseByCode, codesIn, refuseCode } from './codes.ts';
import { dayAt, textAnswer, zoneOf } from './common.ts';
import { fixedHow } from './fixing.ts';
import { shortPlace } from './places.ts';
import { storyText } from './request-story.ts';

function words(moment: Moment, key: TextKey, value = ''): string {
  return moment.world.texts.render(moment.person.locale, key, () => value);
}

/** `POST 4829 1354`, also several codes of one parcel. */
function post(turn: Turn, interpreter: Interpreter, rest: string): void {
  const person = interpreter.person;
  const { codes, wrong } = codesIn(rest);
  turn.disturbed = true;
  if (codes.length === 0) {
    const key = wrong.length > 0 ? 'desk.wrong-code' : 'posting.which-code';
    turn.say(person, key, { frame: null, caseId: null });
    return;
  }
  const gone: ParcelLine[] = [];
  for (const code of codes) {
    const of = caseByCode(turn, person, code);
    if (!of) {
      refuseCode(turn, person, code);
      continue;
    }
    turn.aboutCaseId = of.id;
    if (gone.some((one) => one.caseId === of.id)) continue;
    const refusal = whyNot(of, code);
    if (refusal) {
      turn.say(person, refusal, { frame: null, caseId: of.id, item: specimenOf(of, code)?.id ?? null });
      continue;
    }
    const lines = manifest([of]);
    const labId = laboratoryOf(turn.world.programme, of.siteId).id;
    turn.record(of.id, { type: 'posted', specimens: lines.map((one) => one.specimenId), labId });
    gone.push(...lines);
    for (const thread of turn.threads) {
      const waits = traitsOf(turn.world.flows, topFrame(thread)).carries === 'posting';
      if (thread.caseId === of.id && waits) interpreter.take(thread.id, 'parcel.gone');
    }
  }
  if (gone.length > 0) tellOfParcel(turn, interpreter, gone);
}

/** The text that says why this case cannot go into a parcel now; null when it can. */
function whyNot(of: Case, code: string): TextKey | null {
  if (of.practice) return 'posting.practice';
  const specimen = specimenOf(of, code);
  if (specimen?.postedAt) return 'posting.already';
  if (of.closed !== null || specimen?.end != null) return 'posting.over';
  if (of.frozen !== null) return 'posting.refused-frozen';
  if (of.sos !== null && of.sos.sign !== 'needle-stick') return 'posting.alarm';
  return readyToPost(of).length === 0 ? 'posting.not-yet' : null;
}

function tellOfParcel(turn: Turn, interpreter: Interpreter, gone: readonly ParcelLine[]): void {
  const person = interpreter.person;
  const slides = gone.reduce((sum, one) => sum + one.slides, 0);
  const first = gone[0]!;
  const jars = gone.map((one) => jarOf(turn, person, one));
  const many = turn.world.texts.render(person.locale, 'posting.many-cases', () => String(gone.length));
  const about = { frame: null, caseId: first.caseId, item: first.specimenId };
  turn.say(person, 'posting.posted', {
    ...about,
    vars: { parcelCount: jars.length === 1 ? jars.join() : many, slideCount: String(slides) },
  });
  if (jars.length > 1) {
    const these = turn.world.texts.render(person.locale, 'posting.posted-these', () => '');
    turn.say(person, 'posting.posted-list', {
      ...about,
      vars: { parcelList: packedScreens(these, these, listed(jars), '') },
    });
  }
  const lab = laboratoryOf(turn.world.programme, turn.caseOf(first.caseId)!.siteId);
  const readers = laboratoryPeople(turn.world, lab.id);
  if (readers.length === 0) {
    turn.notify('coordinators', 'posting.nobody-at-lab', 'notice', first.caseId, first.specimenId, {});
  }
  for (const somebody of readers) {
    for (const { caseId, specimenId } of gone) {
      for (const key of requestTexts(turn, somebody, caseId, specimenId)) {
        turn.post(somebody.id, { kind: 'tell', key, caseId, item: specimenId, vars: {}, lane: 'notice' }, { caseId });
      }
    }
    if (gone.length < 2) continue;
    const parcelList = gone.map((each) => `${jarOf(turn, somebody, each)}: ${each.slides}`).join('; ');
    const { caseId } = first;
    turn.post(
      somebody.id,
      { kind: 'tell', key: 'posting.manifest', caseId, item: null, vars: { parcelList }, lane: 'notice' },
      { caseId },
    );
  }
}

/** `4829 1354 R 22mm`: a jar by its code, and side and size as the glass bears them. */
function jarText(moment: Moment, specimen: Specimen): string {
  return `${formatCode(specimen.code)} ${shortPlace(moment, specimen)}`;
}

/** The same of a line of the parcel, as this person reads it. */
function jarOf(turn: Turn, reader: Person, { caseId, specimenId }: ParcelLine): string {
  const moment = turn.moment({ ...idleFrame, item: specimenId }, caseId, reader);
  return moment.specimen ? jarText(moment, moment.specimen) : '';
}

/** The items of a list as its screens take them, the last with a full stop. */
function listed(jars: readonly string[]): readonly string[] {
  return jars.map((one, index) => `${one}${index === jars.length - 1 ? '.' : ';'}`);
}

/** The jar that goes, by its code, side and size; of several how many there are. */
function jarsText(moment: Moment): string {
  const jars = moment.case ? readyToPost(moment.case) : [];
  const [only = moment.specimen, ...others] = jars;
  if (!only) return '';
  return others.length === 0 ? jarText(moment, only) : words(moment, 'posting.many-cases', String(jars.length));
}

/** Every jar of a case that has several, and that one POST is for all of them; '' where it has one. */
function jarListText(moment: Moment): string {
  const jars = moment.case ? readyToPost(moment.case) : [];
  if (jars.length < 2) return '';
  const said = (key: 'jars-together' | 'jars-next' | 'jars-all'): string =>
    words(moment, `posting.${key}`, moment.case!.tag);
  const items = listed(jars.map((one) => jarText(moment, one)));
  return packedScreens(said('jars-together'), said('jars-next'), items, said('jars-all'));
}

/** The request of one specimen; the story behind it is a screen of its own, where there is one. */
function requestTexts(turn: Turn, reader: Person, caseId: string, item: string): readonly TextKey[] {
  const moment = turn.moment({ ...idleFrame, item }, caseId, reader);
  return storyText(moment) === '' ? ['posting.request'] : ['posting.request', 'posting.request-story'];
}

/** Decade of age: enough for the laboratory, and no help to somebody who guesses the birth year on a slide. */
export function ageGroup(moment: Moment): string {
  const born = answerOf(moment.case!, 'patient.birthYear');
  const said = answerOf(moment.case!, 'patient.ageYears');
  const years =
    typeof born === 'number'
      ? localTime(moment.now, zoneOf(moment)).year - born
      : typeof said === 'number'
        ? said
        : null;
  if (years === null) return words(moment, 'laboratory.decade-unknown');
  if (years < 20) return words(moment, 'laboratory.decade-child');
  return words(moment, 'laboratory.decade', String(Math.floor(years / 10)));
}

export const posting: Matter = {
  commands: { POST: { roles: ['worker'], run: post } },
  decisions: {
    'still-here': {
      outcomes: ['yes', 'no'],
      decide: (m) => (m.case!.specimens.some((one) => one.end === null && one.postedAt === null) ? 'yes' : 'no'),
    },
    'may-post': {
      outcomes: ['yes', 'frozen', 'practice', 'no-needle'],
      decide: (m) => {
        if (!needleWasIn(m.case!)) return 'no-needle';
        if (m.case!.frozen !== null) return 'frozen';
        return m.case!.practice ? 'practice' : 'yes';
      },
    },
  },
  recorders: {
    'close-practice': () => [record({ type: 'closed', outcome: 'practised' })],
  },
  values: {
    packing: {
      of: (m) => {
        const specimens = m.case?.specimens ?? [];
        const tubeOnly = fixedHow(specimens) === 'nothing' && specimens.some((one) => fluidsSent(one).length > 0);
        const how = tubeOnly ? 'tube' : (specimens.find((one) => one.fixative)?.fixative ?? 'alcohol');
        return words(m, `posting.pack-${how}`);
      },
      sample: 'put the dried slides apart in a slide box, box it upright',
    },
    jars: { of: jarsText, sample: '4829 1354 R upper 22mm' },
    jarList: {
      of: jarListText,
      sample:
        'AK: these go together: 4829 1354 R 22mm; 5510 2231 L 18mm. POST with one of the codes says that all are gone.',
    },
    fluidPack: {
      of: (m) => {
        const some = m.case?.specimens.find((one) => one.end === null && fluidsSent(one).length > 0);
        return some ? m.world.texts.render(m.person.locale, 'posting.pack-fluid', () => m.case?.tag ?? '') : '';
      },
      sample: 'AK: the tube with the fluid goes along',
    },
    potPack: {
      of: (m) => {
        // Of a node whose slides were discarded nothing goes.
        const jars = m.case ? readyToPost(m.case) : [];
        const some = jars.some((one) => textAnswer(m, 'node-rest', one.id) === 'flushed');
        return some ? m.world.texts.render(m.person.locale, 'posting.pack-pot', () => m.case?.tag ?? '') : '';
      },
      sample: 'AK: the NODE pot goes along',
    },
    marking: {
      of: (m) => {
        const text = laboratoryOf(m.world.programme, m.case!.siteId).marking;
        return text.charAt(0).toUpperCase() + text.slice(1);
      },
      sample: 'Mark as your carrier told you',
    },
    receiptDay: {
      of: (m) => dayAt(m, m.now + durationOf(m.world.programme, 'receipt')),
      sample: '19 MAR',
    },
    postedDay: { of: (m) => (m.specimen?.postedAt ? dayAt(m, m.specimen.postedAt) : ''), sample: '12 MAR' },
    ageGroup: { of: ageGroup, sample: 'aged 40 to 49' },
    requestStory: { of: storyText, sample: 'hoarse, grew in weeks; NOT KNOWN: family' },
    slideTotal: { of: (m) => String(m.specimen ? slidesSent(m.specimen) : 0), sample: '4' },
  },
};
