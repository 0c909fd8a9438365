import { inrHours as inrHoursByDefault, mayHaveChanged } from './clotting.ts';
import type { Findings, FindingsField, NoduleField } from './findings.ts';
import type { Situation } from './gates.ts';
import { assessWeighed, isNeedleInQuestion, type WeighedCase, weighCase } from './indication.ts';
import type { KnownFindings } from './known.ts';
import type { Outcome, PolicyId } from './policies/policy.ts';
import { candidatesOf } from './proposed.ts';
import { settlingFields } from './settling.ts';
import type { WeighedNodule } from './several-nodules.ts';

/** One question worth asking: of the patient (`item` null) or of the nodule with this id. */
export interface OpenQuestion {
  readonly item: string | null;
  readonly field: FindingsField;
}

export interface OpenQuestionsOptions {
  readonly governing: PolicyId;
  /** Other policies whose outcome is shown too, and so has to be settled where it can be. */
  readonly shown?: readonly PolicyId[];
  /** Hours for which an INR counts where nothing is new. */
  readonly inrHours?: number;
  /** Questions already put and answered "cannot tell", besides those that the findings say are "unknown". */
  readonly asked?: readonly OpenQuestion[];
}

/**
 * The questions that could still change what is advised, best first; empty = stop asking. Each policy counts as settled
 * once it is settled whether a needle is due: {no-sampling, follow-up} is not asked further. A question answered
 * "unknown" is not asked again.
 */
export function openQuestions(findings: Findings, options: OpenQuestionsOptions): readonly OpenQuestion[] {
  const { governing, shown = [], asked = [], inrHours = inrHoursByDefault.settled } = options;
  const weighed = weighCase(findings, governing);
  const { decision } = assessWeighed(weighed, governing, inrHours);
  if (decision === 'emergency-now') return [];
  const answered = (item: string | null, field: FindingsField) =>
    isSaidUnknown(findings, item, field) || asked.some((one) => one.item === item && one.field === field);
  const policies = [governing, ...shown.filter((id) => id !== governing)];
  const ofNodules = weighed.nodules.flatMap((nodule) => noduleQuestions(nodule, policies));
  const ofPatient = patientQuestions(weighed.known, { needle: isNeedleInQuestion(weighed), inrHours });
  const all =
    decision === 'refer-first'
      ? ofPatient.filter(({ field }) => field === 'dangerSigns')
      : [...ofPatient, ...ofNodules, ...feltQuestions(weighed)];
  return all.filter(({ item, field }) => !answered(item, field));
}

/** In the order of the gates, and only what an earlier answer has not made needless. */
function patientQuestions(known: KnownFindings, { needle, inrHours }: Situation): readonly OpenQuestion[] {
  const { tsh } = known;
  const mayBePregnant = known.sex !== 'male' && known.pregnant !== 'no';
  const wanted: readonly (readonly [FindingsField, boolean])[] = [
    ['dangerSigns', known.dangerSigns.open],
    ['patient.ageYears', known.ageYears === null],
    ['risks', known.risks.open],
    ['examined', known.examined === null],
    ['ultrasound.done', known.ultrasoundDone === null],
    ['tsh', tsh === null],
    ['overactiveSigns', tsh === null && known.overactiveSigns === null],
    ['patient.pregnant', tsh === 'low' && mayBePregnant && known.pregnant === null],
    ['patient.pregnantWeeks', tsh === 'low' && known.pregnant === 'yes' && known.pregnantWeeks === null],
    ['scan', tsh === 'low' && known.pregnant !== 'yes' && known.scan === null],
    ['scan', tsh === null && known.overactiveSigns === true && known.scan === null],
    ['nodules', known.ultrasoundDone === true && known.nodules === null],
    ['bleeding', needle && known.bleeding.open],
    ['inr', needle && known.bleeding.present.includes('warfarin') && known.inr === null],
    ['inrAgeHours', needle && hasInr(known) && known.inrAgeHours === null],
    ['changedSinceInr', needle && mayHaveChanged(known, inrHours)],
    ['platelets', needle && known.bleeding.present.includes('heparin') && known.platelets === null],
    [
      'ivAntiplateletHours',
      needle && known.bleeding.present.includes('iv-antiplatelet') && known.ivAntiplateletHours === null,
    ],
    ['palpable', needle && known.palpable === null],
    ['guidance', needle && known.palpable === false && known.guidance === null],
  ];
  return wanted.filter(([, isOpen]) => isOpen).map(([field]) => ({ item: null, field }));
}

const hasInr = ({ bleeding, inr }: KnownFindings): boolean => bleeding.present.includes('warfarin') && inr !== null;

/** Which lumps are felt is asked of each where the neck alone does not say. */
function feltQuestions({ known, nodules, score }: WeighedCase): readonly OpenQuestion[] {
  return candidatesOf(known, nodules, score)
    .filter(({ felt, what }) => felt === null && known.palpable === true && what.nodule !== null)
    .map(({ what }) => ({ item: what.nodule, field: 'palpable' }));
}

function noduleQuestions({ nodule, readings }: WeighedNodule, policies: readonly PolicyId[]): readonly OpenQuestion[] {
  const fields = policies.flatMap((id) =>
    isSettled(readings[id].decisions) ? [] : settlingFields(id, nodule, 'needle'),
  );
  return [...new Set<NoduleField>(fields)].map((field) => ({ item: nodule.id, field }));
}

const isSettled = (open: readonly Outcome[]): boolean =>
  open.length === 1 ? open[0] !== 'undetermined' : open.every((one) => one === 'no-sampling' || one === 'follow-up');

function isSaidUnknown(findings: Findings, item: string | null, field: FindingsField): boolean {
  const owner =
    item === null
      ? findings
      : (findings.nodules ?? []).find((nodule, place) => (nodule.id ?? `n${place + 1}`) === item);
  const value = field
    .split('.')
    .reduce<unknown>((at, key) => (at as Record<string, unknown> | undefined)?.[key], owner ?? {});
  return value === 'unknown' || (Array.isArray(value) && value.includes('unknown'));
}
