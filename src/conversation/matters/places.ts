/** Where a specimen comes from, in short words, and the letters that tell those of one sitting apart. */
import type { Specimen } from '../../case/case.ts';
import type { Target } from '../../case/target.ts';
import type { Moment } from '../moment.ts';

/** True: from a lump at the side of the neck, not from the thyroid. */
export function isLateral(specimen: Specimen | null): boolean {
  return specimen?.target.kind === 'node';
}

function shownSide(moment: Moment, target: Target): string {
  return moment.world.texts.label(moment.person.locale, 'sideShort', target.side);
}

function sideLetters(moment: Moment, target: Target, side = shownSide(moment, target)): string {
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
  return lettersWith(moment, specimen, shownSide(moment, specimen.target));
}

/** The same as people may type it, in capitals: as it is shown, or with another word for the side that means no other of them. */
export function typedLetters(moment: Moment, specimen: Specimen): readonly string[] {
  const { locale } = moment.person;
  const others = moment.case!.specimens.filter((one) => one.id !== specimen.id).map((one) => letterOf(moment, one));
  const taken = new Set(others.map((one) => one.toUpperCase()));
  return [
    letterOf(moment, specimen),
    ...moment.world.texts
      .words(locale, 'sideShort', specimen.target.side)
      .map((side) => lettersWith(moment, specimen, side)),
  ]
    .map((one) => one.toUpperCase())
    .filter((one) => one !== '' && !taken.has(one));
}

/** `letterOf` with this word for the specimen's side. */
function lettersWith(moment: Moment, specimen: Specimen, side: string): string {
  const all = moment.case!.specimens;
  if (all.length < 2) return '';
  const shown = sideLetters(moment, specimen.target);
  const own = sideLetters(moment, specimen.target, side);
  const alike = all.filter((one) => sideLetters(moment, one.target) === shown);
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
    moment.world.texts.render(moment.person.locale, 'ready.glass-size', () => String(target.mm[0])),
  ];
  return parts.filter((one) => one !== '').join(' ');
}
