/** What a start on real channels makes of the list of missing things. */
import { type Facts, type Missing, missingOf } from './missing.ts';
import { missingNames } from './missing-names.ts';

/** One line for each thing without which it may not start; a trial may lack all but whom to call and where to go. */
export function unready(facts: Facts, trial: boolean): readonly string[] {
  return stopsOf(missingOf(facts), trial);
}

/** The same of the programme alone, before anybody is known. */
export function unreadyNames(facts: Facts, trial: boolean): readonly string[] {
  return stopsOf(missingNames(facts), trial);
}

function stopsOf(missing: readonly Missing[], trial: boolean): readonly string[] {
  const stops = missing.filter(({ holdsUp }) => holdsUp === 'every-start' || (holdsUp === 'start' && !trial));
  const isForTrial = stops.length > 0 && stops.every(({ holdsUp }) => holdsUp === 'start');
  const lines = stops.map(({ what, mend }) => `${what} ${mend}`);
  return isForTrial ? [...lines, 'To try the line without patients: neckline start --trial.'] : lines;
}

/** What whoever starts it should know: that it is a trial, and what nobody has signed. Whole lines, or nothing. */
export function standingWords({ unsigned: { conventions, languages } }: Facts, trial: boolean): string {
  const unread = languages.length > 0 ? [`texts in ${languages.join(', ')} that nobody has read`] : [];
  const unsigned = [...(conventions > 0 ? [`${conventions} values that no clinician has signed`] : []), ...unread];
  return [
    ...(trial ? ['This is a trial: no patient may depend on it. Everybody is told in their first text.\n'] : []),
    ...(unsigned.length > 0 ? [`Unsigned: ${unsigned.join(', and ')} (neckline sign)\n`] : []),
  ].join('');
}
