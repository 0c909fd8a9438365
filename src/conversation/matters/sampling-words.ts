/** What changes in the words of sampling: guidance, fixative, the pair of slides, the count of tries. */

import { answerOf } from '../../case/case.ts';
import { type AttemptOutcome, SLIDES_PER_ATTEMPT } from '../../clinical/sampling.ts';
import type { KeyIn } from '../../generated/text-keys.ts';
import type { Matter, Moment } from '../moment.ts';
import { nextNumber, slidesFilled, slidesInUse } from './attempts.ts';
import { fixativeNow, halfDried } from './fixing.ts';
import { siteGuides } from './guidance.ts';
import { letterOf } from './places.ts';
import { liesLeft } from './position.ts';

/** Lumps over this size, mm, are held between thumb and finger (IARC Atlas of breast cancer early detection, FNAC). */
const THUMB_ABOVE_MM = 30;

function word(moment: Moment, key: KeyIn<'sampling'>, vars: Readonly<Record<string, string>> = {}): string {
  return moment.world.texts.render(moment.person.locale, `sampling.${key}`, (name) => vars[name] ?? '');
}

function attemptsOf(moment: Moment): readonly AttemptOutcome[] {
  return moment.specimen?.attempts ?? [];
}

function fixKey(moment: Moment): KeyIn<'sampling'> {
  const fixative = fixativeNow(moment);
  // What is dried on purpose is dried whole.
  return halfDried(moment) && fixative !== 'none' ? `fix-both-${fixative}` : `fix-${fixative}`;
}

function pairText(moment: Moment): string {
  const first = (moment.specimen ? slidesFilled(moment.specimen) : 0) + 1;
  return word(moment, 'pair', { count: String(first), number: String(first + 1) });
}

/** More tries than these are counted by what they gave: a list of them fits no screen. */
const mostListed = 4;

/** `tries: only blood, almost nothing`, in the reader's language; of many `tries: only blood (3), almost nothing (2)`. */
function triesText(moment: Moment): string {
  const all = attemptsOf(moment);
  const label = (one: AttemptOutcome): string => moment.world.texts.label(moment.person.locale, 'attempt', one);
  const counted = [...new Set(all)].map((one) => `${label(one)} (${all.filter((each) => each === one).length})`);
  const list = (all.length > mostListed ? counted : all.map(label)).join(', ');
  return word(moment, 'tries-said', { triesList: list });
}

/** `RIGHT lump, 22 mm`: the one that the needle goes into. */
function lumpText(moment: Moment): string {
  const target = moment.specimen?.target;
  if (!target) return '';
  const { texts } = moment.world;
  const named = (field: string, id: string): string => texts.label(moment.person.locale, field, id).toUpperCase();
  const place = target.kind === 'nodule' && target.place !== null ? ` ${named('place', target.place)}` : '';
  const words = word(moment, 'size-here', { count: String(target.mm[0]) });
  return word(moment, `${target.kind}-here`, { what: `${named('side', target.side)}${place}`, words });
}

/** Where the tip is watched on the screen a hand keeps the probe there; else fingers hold what they feel. */
function holdKey(moment: Moment): KeyIn<'sampling'> {
  if (siteGuides(moment)) return 'hold-probe';
  return (moment.specimen?.target.mm[0] ?? 0) > THUMB_ABOVE_MM ? 'hold-thumb' : 'hold-two-fingers';
}

/** All slides good, one digit for each: `6666`, or `8888` where the laboratory wants them dried. */
function goodText(moment: Moment): string {
  const count = moment.specimen ? slidesInUse(moment.specimen) : SLIDES_PER_ATTEMPT;
  if (fixativeNow(moment) === 'none') return '8'.repeat(count);
  return (halfDried(moment) ? '68' : '6').repeat(count).slice(0, count);
}

/** Values of the sampling texts. */
export const samplingWords: NonNullable<Matter['values']> = {
  attempt: { of: (m) => `${m.specimen ? letterOf(m, m.specimen) : ''}${nextNumber(m)}`, sample: 'RU2' },
  pairNow: { of: pairText, sample: '3 and 4' },
  triesSaid: { of: triesText, sample: 'tries: only blood, only blood, almost nothing' },
  triesList: { of: () => '', sample: 'only blood, only blood, almost nothing' },
  slidesLead: {
    of: (m) => word(m, attemptsOf(m).at(-1) === 'material' ? 'lead-material' : 'lead-stopped'),
    sample: 'Good.',
  },
  slidesNow: { of: (m) => String(m.specimen ? slidesInUse(m.specimen) : 0), sample: '4' },
  slidesGood: { of: goodText, sample: '6666' },
  lumpHere: { of: lumpText, sample: 'RIGHT lump, 22 mm' },
  cleanSkin: {
    of: (m) => word(m, answerOf(m.case!, 'ultrasound.done') === true ? 'clean-gel' : 'clean-plain'),
    sample: 'Wipe gel off, clean the skin.',
  },
  faintHere: { of: (m) => word(m, liesLeft(m) ? 'faint-left' : 'faint-flat'), sample: 'lay flat, legs up' },
  see: { of: (m) => word(m, siteGuides(m) ? 'see-us' : 'see-fingers'), sample: 'Watch its tip on the screen.' },
  hold: { of: (m) => word(m, holdKey(m)), sample: 'hold it by thumb and finger.' },
  jarOpen: { of: (m) => word(m, `jar-${fixativeNow(m)}`), sample: 'Open the spray, lay the slides out.' },
  fixNow: {
    of: (m) => word(m, fixKey(m)),
    sample: 'Put one slide, still WET, into the alcohol within 5 seconds. Dry the other fast, on purpose.',
  },
};
