/** What changes in the words of sampling: guidance, fixative, the pair of slides, the count of tries. */
import { SLIDES_PER_ATTEMPT } from '../../clinical/sampling.ts';
import type { KeyIn } from '../../generated/text-keys.ts';
import type { Matter, Moment } from '../moment.ts';
import { guided, nextNumber, slidesInUse } from './attempts.ts';
import { noduleId, sizeOf } from './common.ts';
import { fixativeNow, halfDried } from './fixing.ts';

/** Lumps over this size, mm, are held between thumb and finger (IARC Atlas of breast cancer early detection, FNAC). */
const THUMB_ABOVE_MM = 30;

function word(moment: Moment, key: KeyIn<'sampling'>, vars: Readonly<Record<string, string>> = {}): string {
  return moment.world.texts.render(moment.person.locale, `sampling.${key}`, (name) => vars[name] ?? '');
}

function attemptsOf(moment: Moment): readonly string[] {
  return moment.specimen?.attempts ?? [];
}

function fixKey(moment: Moment): KeyIn<'sampling'> {
  const fixative = fixativeNow(moment);
  // What is dried on purpose is dried whole.
  return halfDried(moment) && fixative !== 'none' ? `fix-both-${fixative}` : `fix-${fixative}`;
}

function pairText(moment: Moment): string {
  const first = attemptsOf(moment).length * SLIDES_PER_ATTEMPT + 1;
  return `${first}-${first + SLIDES_PER_ATTEMPT - 1}`;
}

/** `tries: blood, blood, too little`, in the reader's language. */
function triesText(moment: Moment): string {
  const all = attemptsOf(moment);
  const list = all.map((one) => moment.world.texts.label(moment.person.locale, 'attempt', one)).join(', ');
  return word(moment, 'tries-said', { triesList: list });
}

/** With two slides a bare example could be a report sent twice, so it carries the S. */
function exampleText(moment: Moment): string {
  const count = moment.specimen ? slidesInUse(moment.specimen) : SLIDES_PER_ATTEMPT;
  return `${count <= SLIDES_PER_ATTEMPT ? 'S' : ''}${'1'.repeat(count - 1)}2`;
}

/** Values of the sampling texts. */
export const samplingWords: NonNullable<Matter['values']> = {
  attempt: { of: (m) => String(nextNumber(m)), sample: '2' },
  pairNow: { of: pairText, sample: '3-4' },
  triesSaid: { of: triesText, sample: 'tries: blood, blood, too little' },
  triesList: { of: () => '', sample: 'blood, blood, too little' },
  slidesLead: {
    of: (m) => word(m, attemptsOf(m).at(-1) === 'material' ? 'lead-material' : 'lead-stopped'),
    sample: 'MATERIAL',
  },
  slidesNow: { of: (m) => String(m.specimen ? slidesInUse(m.specimen) : 0), sample: '4' },
  slidesExample: { of: exampleText, sample: '1112' },
  slidesDigits: { of: (m) => String(m.frame.vars.lastReport ?? ''), sample: '11' },
  see: { of: (m) => word(m, guided(m) ? 'see-us' : 'see-fingers'), sample: ', see tip on US' },
  hold: {
    of: (m) => word(m, (sizeOf(m, noduleId(m))[0] ?? 0) > THUMB_ABOVE_MM ? 'hold-thumb' : 'hold-two-fingers'),
    sample: '2 fingers',
  },
  jarOpen: { of: (m) => word(m, `jar-${fixativeNow(m)}`), sample: 'Jar OPEN' },
  fixNow: { of: (m) => word(m, fixKey(m)), sample: 'WET into alcohol within 5 s, both' },
  fixWord: {
    of: (m) => word(m, `word-${fixativeNow(m) === 'spray' ? 'spray' : 'alcohol'}`),
    sample: 'wet into alcohol',
  },
};
