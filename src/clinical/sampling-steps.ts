import type { Technique } from './supplies.ts';

/** One act of sampling, from the open jar to the fixed slide. */
export type SamplingStep =
  | 'open-fixative'
  | 'lay-out-labelled-slides'
  | 'air-into-syringe'
  | 'patient-still'
  | 'hold-nodule'
  | 'enter'
  | 'pull-plunger'
  | 'short-strokes'
  | 'stop-when-hub-shows-material'
  | 'release-plunger'
  | 'withdraw'
  | 'press-with-gauze'
  | 'detach-needle'
  | 'fit-needle'
  | 'expel-tip-on-glass'
  | 'smear'
  | 'fix-at-once'
  | 'needle-to-sharps-box';

const BEFORE = ['open-fixative', 'lay-out-labelled-slides', 'patient-still', 'hold-nodule', 'enter'] as const;
const AFTER = ['fit-needle', 'expel-tip-on-glass', 'smear', 'fix-at-once', 'needle-to-sharps-box'] as const;

const CAPILLARY: readonly SamplingStep[] = [
  'air-into-syringe',
  ...BEFORE,
  'short-strokes',
  'stop-when-hub-shows-material',
  'withdraw',
  'press-with-gauze',
  ...AFTER,
];
const SUCTION: readonly SamplingStep[] = [
  ...BEFORE,
  'pull-plunger',
  'short-strokes',
  'stop-when-hub-shows-material',
  'release-plunger',
  'withdraw',
  'press-with-gauze',
  'detach-needle',
  'air-into-syringe',
  ...AFTER,
];

/**
 * Strokes: inside the nodule for 2 to 5 s at about 3 a second (PathologyOutlines, thyroid FNA); the direction changes
 * between passes, since fanning within one bleeds more (thyroid FNA complications, textbook extract).
 */
export const STROKES = { leastSeconds: 2, mostSeconds: 5, perSecond: 3 } as const;

/** Air drawn into the syringe to expel the sample, ml (5 ml: Thyroidmanager figure 3; up to 10: common practice). */
export const AIR_ML = { least: 5, most: 10 } as const;

/**
 * Gives the acts in order. Suction is pulled only inside the nodule and released before the needle leaves it (IARC
 * Atlas of breast cancer early detection, FNAC; Manual for Cytology; Endotext FNA figure 2); the tip touches the glass
 * against splashes (IARC Atlas); slides are labelled and laid out first (Thyroidmanager figure 3).
 */
export function samplingSteps(technique: Technique): readonly SamplingStep[] {
  return technique === 'capillary' ? CAPILLARY : SUCTION;
}

/** A broken rule of order. */
export type OrderFault =
  | 'pulled-outside-nodule'
  | 'not-released-before-withdraw'
  | 'not-fixed-at-once-after-smear'
  | 'fixative-not-open-before-puncture'
  | 'not-expelled-before-smear';

/** Names every rule of order that a list of acts breaks; an empty list is safe. */
export function orderFaults(steps: readonly SamplingStep[]): readonly OrderFault[] {
  const at = (step: SamplingStep): number => steps.indexOf(step);
  const inOrder = (...wanted: SamplingStep[]): boolean =>
    wanted.every((step, n) => at(step) >= 0 && (n === 0 || at(step) > at(wanted[n - 1]!)));
  const faults: OrderFault[] = [];
  if (at('pull-plunger') >= 0) {
    if (!inOrder('enter', 'pull-plunger')) faults.push('pulled-outside-nodule');
    if (!inOrder('pull-plunger', 'release-plunger', 'withdraw')) faults.push('not-released-before-withdraw');
  }
  if (!inOrder('withdraw', 'expel-tip-on-glass', 'smear')) faults.push('not-expelled-before-smear');
  if (at('smear') < 0 || at('fix-at-once') !== at('smear') + 1) faults.push('not-fixed-at-once-after-smear');
  if (!inOrder('open-fixative', 'enter')) faults.push('fixative-not-open-before-puncture');
  return faults;
}
