/** Where a specimen comes from, in short words, and the letters that tell those of one sitting apart. */
import type { Specimen } from '../../case/case.ts';
import type { Target } from '../../case/target.ts';
import type { Moment } from '../moment.ts';

/** True: from a lump at the side of the neck, not from the thyroid. */
export function isLateral(specimen: Specimen | null): boolean {
  return specimen?.target.kind === 'node';
}

function sideLetters(moment: Moment, target: Target): string {
  const side = moment.world.texts.label(moment.person.locale, 'sideShort', target.side);
  return target.kind === 'node' ? `N${side}` : side;
}

function placeLetter(target: Target): string {
  if (target.kind === 'node' || target.place === null) return '';
  return target.place === 'upper' ? 'U' : 'D';
}

/**
 * Letters in front of an attempt's number where one sitting has several specimens: `R`, `NL`, `RU` and `RD` for two lumps of one side; A
 * and B only where nothing else tells two apart. '' where it has one.
 */
export function letterOf(moment: Moment, specimen: Specimen): string {
  const all = moment.case!.specimens;
  if (all.length < 2) return '';
  const own = sideLetters(moment, specimen.target);
  const alike = all.filter((one) => sideLetters(moment, one.target) === own);
  if (alike.length < 2) return own;
  const placed = new Set(alike.map((one) => placeLetter(one.target)));
  if (placed.size === alike.length && !placed.has('')) return `${own}${placeLetter(specimen.target)}`;
  return `${own}${'ABC'[alike.indexOf(specimen)] ?? ''}`;
}

/** `R 22mm`, `R upper 22mm`, `NL 14mm`: where it is and how big, as it is pencilled on the glass. */
export function shortPlace(moment: Moment, { target }: Specimen): string {
  const place = target.kind === 'nodule' && target.place !== null ? target.place : null;
  const parts = [
    sideLetters(moment, target),
    place === null ? '' : moment.world.texts.label(moment.person.locale, 'place', place),
    `${target.mm[0]}mm`,
  ];
  return parts.filter((one) => one !== '').join(' ');
}
