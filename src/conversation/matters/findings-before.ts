/** What a question was answered by before, shown with it when it is asked once more. */

import { answerToPart, partNames } from '../../case/asked-parts.ts';
import { answerOf } from '../../case/case.ts';
import { nodulesOf } from '../../case/findings-of.ts';
import type { Moment } from '../moment.ts';
import { listAnswer, textAnswer } from './common.ts';
import { partWords, ultrasoundWords } from './findings-check.ts';
import { brightText, label, looksText, noduleWithGrowth } from './findings-words.ts';

/** `AK: until now: hoarse.`, or '' where nothing was said of it yet. */
export function saidBefore(moment: Moment): string {
  const shown = wordsBefore(moment);
  if (shown === '') return '';
  const values: Readonly<Record<string, string>> = { tag: moment.case?.tag ?? '', words: shown };
  return moment.world.texts.render(moment.person.locale, 'new.until-now', (name) => values[name] ?? '');
}

function wordsBefore(moment: Moment): string {
  const { state, item } = moment.frame;
  const of = moment.case;
  if (!of) return '';
  const part = partNames.find((one) => one === state || (one === 'family' && state === 'family-and-pet'));
  if (part) {
    const said = partWords(moment, part);
    const asked = answerToPart(of, part);
    if (said.length > 0) return said.join(', ');
    return asked === null || asked.includes('unknown')
      ? ''
      : label(moment, part === 'family' ? 'risks' : 'dangerSigns', 'none');
  }
  switch (state) {
    case 'examined': {
      if (answerOf(of, 'examined') !== true) return '';
      const sides = listAnswer(moment, 'felt').map((id) => label(moment, 'side', id));
      return sides.join(', ') || label(moment, 'examined', 'not-felt');
    }
    case 'tsh':
      return label(moment, 'tsh', textAnswer(moment, 'tsh'));
    case 'ultrasound':
      return ultrasoundWords(moment);
    case 'sizes':
      return nodulesOf(of)
        .map((id) => noduleWithGrowth(moment, id))
        .join(', ');
    case 'inside':
      return label(moment, 'composition', textAnswer(moment, 'composition', item));
    case 'looks':
      return looksText(moment, item ?? '');
    case 'bright':
      return brightText(moment, item ?? '');
    default:
      return '';
  }
}
