/** Values that texts of many flows share: who, which lump, where, when. */

import type { AnswerField, AnswerValues, FieldOf, ItemField } from '../../case/answers.ts';
import { answerKey, answerOf, type Specimen } from '../../case/case.ts';
import { formatCode } from '../../case/code.ts';
import { storedAs } from '../../case/stored.ts';
import { type Aim, aimsOf, isNodule, sideSaid, type TargetSide } from '../../case/target.ts';
import { clockWords, dayWords, dayWordsAt } from '../../text/time-words.ts';
import { caseLaboratory } from '../case-laboratory.ts';
import { type Act, type Matter, type Moment, record } from '../moment.ts';
import { ladder } from '../people.ts';
import { type Laboratory, laboratoryOf, type Site, siteOf } from '../programme.ts';

/** The site of the case, else of the person. */
export function siteHere(moment: Moment): Site {
  return siteOf(moment.world.programme, moment.case?.siteId ?? moment.person.siteId);
}

/** The laboratory of the case, else the one of the person's site. */
export function laboratoryHere(moment: Moment): Laboratory {
  const { programme } = moment.world;
  return moment.case ? caseLaboratory(programme, moment.case) : laboratoryOf(programme, moment.person.siteId);
}

/** The zone of the place where the patient is: its days and working hours, and what is read of a worker's clock. */
export function zoneOf(moment: Moment): string {
  return siteHere(moment).zone;
}

/** The zone in which this person reads a clock: a doctor may be in another one than the patient. */
export function readerZone(moment: Moment): string {
  return siteOf(moment.world.programme, moment.person.siteId).zone;
}

export { clockWords as clockText, dayWords };

/** Day and month of an instant in the reader's language and zone. */
export function dayAt(moment: Moment, at: number): string {
  return dayWordsAt(at, readerZone(moment), moment.world.texts.months(moment.person.locale));
}

/** What the frame is about, as far as it is known: its own lump, what its specimen came from, or what is proposed first. */
export function aimHere(moment: Moment): Pick<Aim, 'kind' | 'nodule' | 'side' | 'mm' | 'place'> | null {
  const of = moment.case;
  const item = moment.frame.item;
  const aims = of ? aimsOf(of) : [];
  const own = aims.find((one) => one.item === item);
  if (own) return own;
  if (of && isNodule(item)) {
    return { kind: 'nodule', nodule: item, side: sideSaid(of, item), mm: sizeOf(moment, item), place: null };
  }
  const target = moment.specimen?.target;
  if (target) return target.kind === 'nodule' ? target : { ...target, nodule: null, place: null };
  return aims[0] ?? null;
}

/** The measured nodule that the frame is about: its own item, or the one its specimen came from. */
export function noduleId(moment: Moment): string | null {
  return aimHere(moment)?.nodule ?? null;
}

/** Side of a measured nodule as findings hold it, or null. */
export function sideOf(moment: Moment, nodule: string | null): TargetSide | null {
  return moment.case && nodule !== null ? sideSaid(moment.case, nodule) : null;
}

/** Diameters of a nodule in mm, largest first as they were given; empty when unknown. */
export function sizeOf(moment: Moment, nodule: string | null): readonly number[] {
  return numbersOf(moment, 'mm', nodule);
}

/** The two diameters of a nodule of which the third was not said, mm; empty otherwise. */
export function twoSizesOf(moment: Moment, nodule: string | null): readonly number[] {
  return numbersOf(moment, 'mmTwo', nodule);
}

function numbersOf(moment: Moment, field: 'mm' | 'mmTwo', nodule: string | null): readonly number[] {
  const mm = moment.case && nodule !== null ? answerOf(moment.case, field, nodule) : null;
  return Array.isArray(mm) ? mm.filter((one): one is number => typeof one === 'number') : [];
}

type TextField = FieldOf<string | number>;
type ListField = FieldOf<readonly string[]>;
/** Of an item's field the item has to be said; of a field of the case there is none. */
type ItemOf<F extends AnswerField> = F extends ItemField ? readonly [item: string | null] : readonly [];

/** A text or number of the case as text, or ''. */
export function textAnswer<F extends TextField>(
  moment: Moment,
  field: F,
  ...[item]: ItemOf<F>
): `${AnswerValues[F]}` | '' {
  const value = moment.case?.answers[answerKey(field, item ?? null)];
  return (typeof value === 'string' || typeof value === 'number' ? String(value) : '') as `${AnswerValues[F]}` | '';
}

/** A list of the case; absent = empty. */
export function listAnswer<F extends ListField>(moment: Moment, field: F, ...[item]: ItemOf<F>): AnswerValues[F] {
  const value = moment.case?.answers[answerKey(field, item ?? null)];
  const texts = Array.isArray(value) ? value.filter((one) => typeof one === 'string') : [];
  return storedAs<AnswerValues[F]>(texts)!;
}

function labelOf(moment: Moment, field: string, id: string | null): string {
  return id === null ? '' : moment.world.texts.label(moment.person.locale, field, id);
}

function specimenHere(moment: Moment): Specimen | null {
  return moment.specimen ?? moment.case?.specimens.find((one) => one.end === null) ?? moment.case?.specimens[0] ?? null;
}

/** Year, or age and the year in which it was asked; no birth year is invented from an age. */
export function ageText(moment: Moment): string {
  const birthYear = textAnswer(moment, 'patient.birthYear');
  if (birthYear !== '') return birthYear;
  const age = textAnswer(moment, 'patient.ageYears');
  return age === '' ? '' : moment.world.texts.render(moment.person.locale, 'new.age-years', () => age);
}

export const common: Matter = {
  values: {
    tag: { of: (m) => m.case?.tag ?? '', sample: 'AK' },
    code: { of: (m) => codeText(specimenHere(m)), sample: '4829 1354' },
    codePlain: { of: (m) => specimenHere(m)?.code ?? '', sample: '48291354' },
    side: { of: (m) => labelOf(m, 'sideShort', aimHere(m)?.side ?? null), sample: 'R' },
    sideWord: { of: (m) => labelOf(m, 'side', aimHere(m)?.side ?? null), sample: 'right' },
    size: { of: (m) => (aimHere(m)?.mm ?? []).join('x'), sample: '22x15x14' },
    place: { of: (m) => labelOf(m, 'place', aimHere(m)?.place ?? null), sample: 'upper' },
    sex: { of: (m) => labelOf(m, 'sexShort', textAnswer(m, 'patient.sex') || null), sample: 'F' },
    born: { of: ageText, sample: '1982' },
    initials: { of: (m) => textAnswer(m, 'patient.initials'), sample: 'AK' },
    now: { of: (m) => clockWords(m.now, readerZone(m)), sample: '10:42' },
    today: { of: (m) => dayAt(m, m.now), sample: '12 MAR' },
    tomorrow: { of: (m) => dayAt(m, m.now + 86_400_000), sample: '13 MAR' },
    site: { of: (m) => siteHere(m).name, sample: 'Oruma clinic' },
    lab: { of: (m) => laboratoryHere(m).name, sample: 'Lab Velin' },
    labAddress: { of: (m) => laboratoryHere(m).address, sample: 'Box 12, Velin' },
    hospital: { of: (m) => siteHere(m).hospital, sample: 'Velin Hospital' },
    night: { of: (m) => siteHere(m).night, sample: 'Velin Hospital, gate 2' },
    voice: { of: (m) => siteHere(m).voiceNumber, sample: '+000 555 0100' },
    // With nobody there the text says so: a name that is empty would be a promise of nobody.
    doctorAsked: {
      of: (m) =>
        ladder(m.world, m.now)[0]?.name ??
        m.world.texts.render(m.person.locale, 'common.nobody-to-ask', () => siteHere(m).voiceNumber),
      sample: 'Dr Tano',
    },
    me: { of: (m) => m.person.name, sample: 'Ada' },
    secret: { of: (m) => m.secrets[0] ?? '', sample: '4718' },
    secret2: { of: (m) => m.secrets[1] ?? '', sample: '8350' },
  },
};

/** `4829 1354`, or '' before a code is issued. */
export function codeText(specimen: Specimen | null): string {
  return specimen ? formatCode(specimen.code) : '';
}

/** A case ends once: a doctor may have closed it while the patient was on the way. */
export function closeOnce(moment: Moment, outcome: string): readonly Act[] {
  return moment.case!.closed === null ? [record({ type: 'closed', outcome })] : [];
}
