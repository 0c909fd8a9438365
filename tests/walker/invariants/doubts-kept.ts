import type { Case } from '../../../src/case/case.ts';
import type { Recorded } from '../transcript.ts';
import type { Invariant } from './invariant.ts';
import { answersOf, recordsOf } from './invariant.ts';

const withoutReferral = new Set(['sample', 'optional', 'follow-up', 'no-sampling']);
const groups = ['asked.breathing', 'asked.story', 'asked.lump'];

/** What could not be told stays a doubt: of the danger signs, of a low TSH, and of a benign result beside a sign. */
export const doubtsKept: Invariant = {
  name: 'what could not be told, a low TSH and a sign beside a benign result are kept as doubts',
  broken: (walked) => {
    const records = recordsOf(walked);
    return [...new Set(records.flatMap((one) => [...signsTold(one), ...lowTsh(one), ...benign(one, records)]))];
  },
};

const list = (of: Case, field: string): readonly unknown[] => {
  const value = answersOf(of)[field];
  return Array.isArray(value) ? value : [];
};

function signsTold({ record: { event }, after }: Recorded): readonly string[] {
  if (event.type !== 'decided' || !withoutReferral.has(event.decision)) return [];
  if (!groups.some((field) => list(after, field).includes('unknown'))) return [];
  const told = JSON.stringify(event.assessment);
  return /danger-signs|dangerSigns/.test(told) ? [] : [`${event.decision} as if all danger signs were known`];
}

/** Beside a pregnancy TSH has rules of its own; a doctor may allow the needle. */
function lowTsh({ record: { event }, after }: Recorded): readonly string[] {
  if (event.type !== 'decided' || event.decision !== 'sample') return [];
  const { tsh, scan, 'patient.pregnant': pregnant } = answersOf(after);
  return tsh === 'low' && scan !== 'not-hot' && pregnant !== 'yes' ? ['a needle with a low TSH and no scan'] : [];
}

function benign({ at, record: { event }, after }: Recorded, records: readonly Recorded[]): readonly string[] {
  if (event.type !== 'result-filed' || event.amends !== null || !/^Thy2c?$/.test(event.result.canonical ?? ''))
    return [];
  if (after.practice || !list(after, 'dangerSigns').some((id) => id !== 'unknown')) return [];
  const asked = records.some(
    (one) => one.at === at && one.record.event.type === 'doctor-asked' && /discordant/.test(one.record.event.about),
  );
  return asked ? [] : [`${event.result.canonical} beside a danger sign, and no doctor is asked`];
}
