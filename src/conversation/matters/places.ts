/** Where a specimen comes from, and the letter that tells those of one sitting apart. */
import type { Specimen } from '../../case/case.ts';
import type { Moment } from '../moment.ts';
import { sideOf, sizeOf } from './common.ts';

/** True: from a lump at the side of the neck, not from the thyroid. */
export function isLateral(_moment: Moment, _specimen: Specimen | null): boolean {
  return false;
}

function sideLetter(moment: Moment, specimen: Specimen): string {
  const side = sideOf(moment, specimen.nodule);
  return side === null ? '' : moment.world.texts.label(moment.person.locale, 'sideShort', side);
}

/** Letters in front of an attempt's number (`R`, `NL`, `RU`) where one sitting has several specimens; '' where it has one. */
export function letterOf(moment: Moment, specimen: Specimen): string {
  const all = moment.case!.specimens;
  if (all.length < 2) return '';
  const own = sideLetter(moment, specimen);
  const alike = all.filter((one) => sideLetter(moment, one) === own);
  if (alike.length < 2) return own;
  return `${own}${alike.indexOf(specimen) === 0 ? 'U' : 'D'}`;
}

/** `R 22mm`: where it is and how big, as it is pencilled on the glass. */
export function shortPlace(moment: Moment, specimen: Specimen): string {
  const largest = sizeOf(moment, specimen.nodule)[0];
  return [sideLetter(moment, specimen), largest === undefined ? '' : `${largest}mm`].filter((one) => one !== '').join(' ');
}
