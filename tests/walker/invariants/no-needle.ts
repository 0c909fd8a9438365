import type { Case } from '../../../src/case/case.ts';
import type { Walked } from '../transcript.ts';
import { lumpOfAsk } from '../which-lump.ts';
import type { Invariant } from './invariant.ts';
import { answersOf, recordsOf } from './invariant.ts';

const needle = new Set(['code-issued', 'attempted']);
const adultFromYears = 18;
const year = 2030;

/** No needle for a child, a hot nodule, a bleeding stop, a pulsating lump, or what is not felt where nothing guides it. */
export const noNeedle: Invariant = {
  name: 'no needle for a child, a hot nodule, a bleeding stop, a pulsating lump, or one that is not felt without guidance',
  broken: (walked) => {
    const found = recordsOf(walked).flatMap(({ record, after }) => {
      const { event } = record;
      if (!needle.has(event.type) || !('specimen' in event) || event.specimen === null) return [];
      return stops(walked, after, event.specimen).map((why) => `${event.type} for ${why}`);
    });
    return [...new Set(found)];
  },
};

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
  if (answers.scan === 'hot') why.push('a hot nodule');
  if (list('bleeding').includes('bleeding-disorder')) why.push('a bleeding disorder');
  if (typeof answers.platelets === 'number' && answers.platelets < 20) why.push('too few platelets');
  if (list('lump').includes('pulsates') || list('dangerSigns').includes('pulsates')) why.push('a pulsating lump');
  const guided = walked.guidance && answers['ultrasound.done'] === true;
  const lump = lumpOfAsk({ ask: { item: specimen }, truth: walked.truth, of });
  const feltAsked = Object.keys(answers).some((key) => /(^|\.)(felt|palpable)$/.test(key));
  if (lump && !lump.felt && feltAsked && !guided) why.push('a lump that is not felt, without guidance');
  if (lump && !feltAsked && !guided) why.push('a lump of which nobody said that it is felt, without guidance');
  return why;
}
