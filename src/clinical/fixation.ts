import type { LaboratoryStain } from './supplies.ts';

/** What became of one slide after the smear. */
export const slideStates = ['wet-at-once', 'late', 'dried', 'empty'] as const;
export type SlideState = (typeof slideStates)[number];

/** How good the slide can be for the laboratory's stain; only the laboratory decides adequacy. */
export type SlideQuality = 'good' | 'doubtful' | 'poor' | 'none';

/** What the laboratory must be told with the parcel. */
export type LaboratoryNotice = 'fixed-late' | 'dried-before-fixing' | 'fixed-wet-not-dried' | 'empty-or-broken';

/** What the worker does about the slides as they are. */
export type SlidesAdvice =
  | 'post-as-planned'
  | 'tell-laboratory'
  | 'mark-dried-slides-ad'
  | 'do-not-fix-dried-slides'
  | 'post-at-once'
  | 'ask-doctor-about-repeat';

/** Slides in their order, first is number 1; `usable` counts those of good or doubtful quality. */
export type SlidesJudgement = {
  readonly qualities: readonly SlideQuality[];
  readonly usable: number;
  readonly overall: 'usable' | 'all-dried' | 'all-empty' | 'none-usable';
  readonly tellLaboratory: readonly LaboratoryNotice[];
  readonly advice: readonly SlidesAdvice[];
};

/** Air-dried smears stayed usable so many hours, for rapid stains better within 24 (Shidham, Acta Cytol 2001;45:60). */
export const DRIED_SLIDES_USABLE_HOURS = 72;

/** A wet smear goes into the fixative within this many seconds (from memory; "immediately": IARC Atlas, fixation). */
export const FIX_WITHIN_SECONDS = 5;

/**
 * Judges the slides of a specimen for the laboratory's stain. Papanicolaou needs slides that never dried, Giemsa and
 * rapid stains need slides dried at once (Manual for Cytology, p. 29). All dried or empty: marked, told, posted at
 * once, and the doctor is asked whether to repeat (our convention).
 */
export function judgeSlides(states: readonly SlideState[], stain: LaboratoryStain): SlidesJudgement {
  const qualities = states.map((state) => slideQuality(state, stain));
  const usable = qualities.filter((quality) => quality === 'good' || quality === 'doubtful').length;
  const present = states.filter((state) => state !== 'empty');
  const tell: LaboratoryNotice[] = [];
  if (states.includes('late')) tell.push('fixed-late');
  if (states.includes('dried') && stain === 'wet') tell.push('dried-before-fixing');
  if (stain === 'dried' && states.some((state) => state === 'wet-at-once' || state === 'late')) {
    tell.push('fixed-wet-not-dried');
  }
  if (states.includes('empty')) tell.push('empty-or-broken');

  const overall =
    present.length === 0
      ? 'all-empty'
      : usable > 0
        ? 'usable'
        : present.every((state) => state === 'dried')
          ? 'all-dried'
          : 'none-usable';
  return { qualities, usable, overall, tellLaboratory: tell, advice: adviceFor(overall, present, tell) };
}

function slideQuality(state: SlideState, stain: LaboratoryStain): SlideQuality {
  if (state === 'empty') return 'none';
  if (state === 'late') return stain === 'dried' ? 'poor' : 'doubtful';
  if (state === 'wet-at-once') return stain === 'dried' ? 'poor' : 'good';
  return stain === 'wet' ? 'poor' : 'good';
}

function adviceFor(
  overall: SlidesJudgement['overall'],
  present: readonly SlideState[],
  tell: readonly LaboratoryNotice[],
): readonly SlidesAdvice[] {
  if (overall === 'all-empty') return ['ask-doctor-about-repeat'];
  const advice: SlidesAdvice[] = [];
  if (present.includes('dried')) advice.push('mark-dried-slides-ad', 'do-not-fix-dried-slides');
  if (tell.length > 0) advice.push('tell-laboratory');
  if (overall === 'usable') advice.push('post-as-planned');
  else advice.push('post-at-once', 'ask-doctor-about-repeat');
  return advice;
}
