import { answerOf } from '../../case/case.ts';
import type { Moment } from '../moment.ts';

/** True when ultrasound guides the needle here: the machine was used for this lump and the site can use it meanwhile. */
export function siteGuides(moment: Moment): boolean {
  const { sites } = moment.world.programme;
  const site = sites.find((one) => one.id === moment.case?.siteId) ?? sites[0];
  return answerOf(moment.case!, 'ultrasound.done') === true && site?.guidance === true;
}
