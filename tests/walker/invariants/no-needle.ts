import type { Case } from '../../../src/case/case.ts';
import { asRecorded } from '../mistaken.ts';
import type { Entry, Recorded, Walked } from '../transcript.ts';
import { lumpOfAsk } from '../which-lump.ts';
import type { Invariant } from './invariant.ts';
import { answersOf, recordsOf } from './invariant.ts';

const needle = new Set(['code-issued', 'attempted']);
const adultFromYears = 18;
const year = 2030;
const mostInr = 3;

/** No needle for a child, noisy breathing, a hot nodule, a bleeding stop, what beats, or what is not felt where nothing guides it. */
export const noNeedle: Invariant = {
  name: 'no needle for a child, noisy breathing, a hot nodule, a bleeding stop, what beats, or what is not felt without guidance',
  broken: (walked) => {
    const records = recordsOf(walked);
    const found = records.flatMap(({ record, after }, index) => {
      const { event } = record;
      if (!needle.has(event.type) || !('specimen' in event) || event.specimen === null) return [];
      const why = [
        ...stops(walked, after, event.specimen),
        ...nodeStops(walked, after, event.specimen, records.slice(0, index)),
      ];
      return why.map((one) => `${event.type} for ${one}`);
    });
    return [...new Set(found)];
  },
};

/** What a finger found of a neck node, also where something else was said of it afterwards; and where it lies. */
function nodeStops(walked: Walked, of: Case, specimen: string, before: readonly Recorded[]): readonly string[] {
  const { target } = of.specimens.find(({ id }) => id === specimen)!;
  if (target.kind !== 'node') return [];
  const items = ['node', `node-${target.side}`];
  const said = before.flatMap(({ at, record: { event } }) => {
    if (event.type !== 'answered' || event.field !== 'node-pulse' || !items.includes(event.item ?? '')) return [];
    // Taken back by BACK right after it.
    const isSlip = event.value !== 'still' && walked.entries.some((one) => isBackAfter(one, at));
    return isSlip ? [] : [event.value];
  });
  // What was forgotten was not said.
  const stands = said.slice(said.lastIndexOf(null) + 1);
  const why: string[] = [];
  if (stands.includes('beats')) why.push('a neck node that beats');
  else if (stands.includes('unknown')) why.push('a neck node of which nobody can tell if it beats');
  else if (!stands.includes('still')) why.push('a neck node that nobody has laid a finger on');
  const isLow = items.some((item) => answersOf(of)[`${item}.level`] === 'low');
  if (isLow && !isGuided(walked, of)) why.push('a neck node just above the collarbone, without guidance');
  return why;
}

const backMs = 30 * 60_000;

const isBackAfter = (one: Entry, since: number): boolean =>
  one.kind === 'sent' && one.slip === 'back' && one.at >= since && one.at < since + backMs;

const isGuided = ({ guidance }: Walked, of: Case): boolean => guidance && answersOf(of)['ultrasound.done'] === true;

function stops(walked: Walked, of: Case, specimen: string): readonly string[] {
  const answers = answersOf(of);
  const list = (field: string): readonly unknown[] => {
    const value = answers[field];
    return Array.isArray(value) ? value : [];
  };
  const why: string[] = [];
  const { 'patient.birthYear': born, 'patient.ageYears': age } = answers;
  const turns = typeof born === 'number' ? year - born : typeof age === 'number' ? age : null;
  // Who turns eighteen this year may still be seventeen.
  if (turns !== null && turns < adultFromYears + (typeof born === 'number' ? 1 : 0)) why.push('a child');
  if (list('dangerSigns').includes('stridor')) why.push('noisy breathing');
  if (answers.scan === 'hot') why.push('a hot nodule');
  if (list('bleeding').includes('bleeding-disorder')) why.push('a bleeding disorder');
  if (typeof answers.platelets === 'number' && answers.platelets < 20) why.push('too few platelets');
  if (typeof answers.inr === 'number' && answers.inr > mostInr) why.push('an INR over 3');
  if (list('lump').includes('pulsates') || list('dangerSigns').includes('pulsates')) why.push('a pulsating lump');
  const guided = isGuided(walked, of);
  const lump = lumpOfAsk({ ask: { item: specimen }, truth: asRecorded(walked.truth, of), of });
  const feltAsked = Object.keys(answers).some((key) => /(^|\.)(felt|palpable)$/.test(key));
  if (lump && !lump.felt && feltAsked && !guided) why.push('a lump that is not felt, without guidance');
  if (lump && !feltAsked && !guided) why.push('a lump of which nobody said that it is felt, without guidance');
  return why;
}
