/** What a question was answered by before, shown with it when it is asked once more. */

import { type AskedPart, answerToPart, askedParts, partNames } from '../../case/asked-parts.ts';
import { answerOf } from '../../case/case.ts';
import { nodulesOf } from '../../case/findings-of.ts';
import type { OptionId } from '../../generated/option-ids.ts';
import type { Matter, Moment } from '../moment.ts';
import { listAnswer, textAnswer } from './common.ts';
import { partWords, ultrasoundWords } from './findings-check.ts';
import { brightText, label, looksText, noduleText } from './findings-words.ts';

type Line = Exclude<OptionId<'findings-check'>, 'yes' | 'patient'>;

/** What stood in a line of the read-back, by line: `AK until now: hoarse.`; '' where nothing was said of it yet. */
export const beforeValues: NonNullable<Matter['values']> = Object.fromEntries(
  Object.entries({
    ...Object.fromEntries(partNames.map((part) => [part, (moment: Moment) => partBefore(moment, part)])),
    felt: feltBefore,
    tsh: (moment) => label(moment, 'tsh', textAnswer(moment, 'tsh')),
    ultrasound: ultrasoundWords,
    sizes: sizesBefore,
    inside: (moment) => label(moment, 'composition', textAnswer(moment, 'composition', moment.frame.item)),
    looks: (moment) => looksText(moment, moment.frame.item ?? ''),
    bright: (moment) => brightText(moment, moment.frame.item ?? ''),
  } satisfies Readonly<Partial<Record<Line, (moment: Moment) => string>>>).map(([line, words]) => [
    `before.${line}`,
    { of: (moment: Moment) => untilNow(moment, words(moment)), sample: '' },
  ]),
);

function untilNow(moment: Moment, shown: string): string {
  if (shown === '') return '';
  const values: Readonly<Record<string, string>> = { tag: moment.case?.tag ?? '', words: shown };
  return moment.world.texts.render(moment.person.locale, 'new.until-now', (name) => values[name] ?? '');
}

function partBefore(moment: Moment, part: AskedPart): string {
  const said = partWords(moment, part);
  if (said.length > 0 || !moment.case) return said.join(', ');
  const asked = answerToPart(moment.case, part);
  if (asked === null || asked.includes('unknown')) return '';
  return label(moment, askedParts[part].field, 'none');
}

function feltBefore(moment: Moment): string {
  if (!moment.case || answerOf(moment.case, 'examined') !== true) return '';
  const sides = listAnswer(moment, 'felt').map((id) => label(moment, 'side', id));
  return sides.join(', ') || label(moment, 'examined', 'not-felt');
}

function sizesBefore(moment: Moment): string {
  const ids = moment.case ? nodulesOf(moment.case) : [];
  return ids.map((id) => noduleText(moment, id)).join(', ');
}
