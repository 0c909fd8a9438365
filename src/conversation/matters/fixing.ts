/** How this case's smears are fixed: from the supplies, the laboratory's stain and what it agreed. */
import type { Specimen } from '../../case/case.ts';
import { judgeSlides, type SlidesJudgement } from '../../clinical/fixation.ts';
import { type AgreedAfterAlcohol, chooseFixationRoute, type FixationRoute } from '../../clinical/fixation-routes.ts';
import type { LaboratoryStain } from '../../clinical/supplies.ts';
import type { Moment } from '../moment.ts';
import { type Laboratory, laboratoryOf } from '../programme.ts';
import { listAnswer } from './common.ts';
import { isNodeHere } from './node.ts';
import { suppliesNow } from './ready.ts';

const agreedNames: Readonly<Record<Laboratory['alcohol'], AgreedAfterAlcohol>> = {
  'stay-in-alcohol': 'stay-in-alcohol',
  coat: 'alcohol-then-spray',
  glycerine: 'alcohol-then-glycerine',
  'dry-agreed': 'dip-and-dry',
};

function isAfterAlcohol(id: FixationRoute): id is AgreedAfterAlcohol {
  return id !== 'spray-only' && id !== 'dry-on-purpose';
}

/** The laboratory that this case's slides go to. */
export function laboratoryHere(moment: Moment): Laboratory {
  return laboratoryOf(moment.world.programme, moment.case!.siteId);
}

/** What a fresh smear goes into. `none`: dried on purpose. Supplies that no longer judge as enough count as alcohol. */
export function fixativeNow(moment: Moment): 'alcohol' | 'spray' | 'none' {
  const judged = suppliesNow(moment);
  return judged.ok ? judged.fixative : 'alcohol';
}

/** One slide of each pair is dried on purpose, the other fixed wet. Of a node always: its stain for tuberculosis needs a dried one. */
export function halfDried(moment: Moment): boolean {
  const judged = suppliesNow(moment);
  if (isNodeHere(moment)) return judged.ok && judged.fixative !== 'none';
  return judged.ok && judged.slides === 'one-of-each-pair-dried';
}

/** Which slides of this specimen are of use: of a node dried ones too, whatever the laboratory stains. */
export function stainFor(moment: Moment, specimen: Specimen): LaboratoryStain {
  const { stain } = laboratoryHere(moment);
  return specimen.target.kind === 'node' && stain === 'wet' ? 'both' : stain;
}

/** The way from alcohol to the parcel; a coat that was agreed needs the spray, without it the slides stay in alcohol. */
export function routeAfterAlcohol(moment: Moment): AgreedAfterAlcohol {
  const lab = laboratoryHere(moment);
  const spray = listAnswer(moment, 'supplies').includes('spray');
  const route = chooseFixationRoute({ alcohol: true, spray, stain: lab.stain, agreed: agreedNames[lab.alcohol] });
  // What never was in alcohol has no way on from there.
  return route && isAfterAlcohol(route) ? route : 'stay-in-alcohol';
}

/** The agreed coat cannot be given, since there is no spray. */
export function coatLacks(moment: Moment): boolean {
  return laboratoryHere(moment).alcohol === 'coat' && routeAfterAlcohol(moment) === 'stay-in-alcohol';
}

/** What a specimen's slides are worth for this laboratory's stain. */
export function slidesWorth(moment: Moment, specimen: Specimen): SlidesJudgement {
  return judgeSlides(specimen.slides, stainFor(moment, specimen));
}

/** What kinds of slides a case has to bring home; `nothing` when no specimen is left to send. */
export type FixedHow = 'alcohol' | 'alcohol-and-dried' | 'spray' | 'dried' | 'nothing';

/** Looks at every slide that is kept, of every specimen that is still open. */
export function fixedHow(specimens: readonly Specimen[]): FixedHow {
  const open = specimens.filter((one) => one.end === null && one.fixedAt !== null);
  const kept = open.flatMap((one) =>
    one.slides
      .filter((slide) => slide !== 'empty')
      .map((slide) => (slide === 'dried' || one.fixative === 'air-dried' ? 'dried' : one.fixative)),
  );
  if (kept.length === 0) return 'nothing';
  const dried = kept.includes('dried');
  if (kept.includes('alcohol')) return dried ? 'alcohol-and-dried' : 'alcohol';
  return kept.includes('spray') ? 'spray' : 'dried';
}
