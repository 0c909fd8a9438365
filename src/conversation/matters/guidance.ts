import { answerOf } from '../../case/case.ts';
import type { Moment } from '../moment.ts';

/** True when nobody has been asked for an ultrasound yet at a site that could guide by it. */
export function mayGuideYet(moment: Moment): boolean {
  return (answerOf(moment.case!, 'ultrasound.done') ?? null) === null && siteHasGuidance(moment);
}

/** True when ultrasound guides the needle here: the machine was used for this lump and the site can use it meanwhile. */
export function siteGuides(moment: Moment): boolean {
  return answerOf(moment.case!, 'ultrasound.done') === true && siteHasGuidance(moment);
}

function siteHasGuidance(moment: Moment): boolean {
  const { sites } = moment.world.programme;
  const site = sites.find((one) => one.id === moment.case?.siteId) ?? sites[0];
  return site?.guidance === true;
}
