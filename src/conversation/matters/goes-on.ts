/** How a screen goes on in a next one: with the question's tag and the patient's, so that each is complete alone. */
import { goesOnSign } from '../../text/screens.ts';
import type { Matter, Moment } from '../moment.ts';
import { leadText } from './lead.ts';

/** `Q47 AK48:`, `AK48:` where nothing is asked; '' where neither is at hand. Stands first in its screen. */
function goesOnText(moment: Moment): string {
  const { q } = moment.frame.vars;
  const tag = leadText(moment).trim();
  if (q === undefined || q === null || q === '') return `${tag}${goesOnSign}`;
  return `Q${q}${tag === '' ? ':' : ` ${tag}`}${goesOnSign}`;
}

export const goesOn: Matter = {
  values: { goesOn: { of: goesOnText, sample: `Q47 AK48:${goesOnSign}` } },
};
