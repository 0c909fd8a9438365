/** Long files begin first: one that begins last is waited for by all others. */
import { BaseSequencer, type TestSpecification } from 'vitest/node';

/** Files that took over 15 s on two processors, the longest first. */
const long = [
  'tests/gateway/whole-case.test.ts',
  'tests/conversations/plays.test.ts',
  'tests/walker/walker.test.ts',
  'tests/simulation/',
  'tests/names/renaming.test.ts',
  'tests/cli/operations.test.ts',
  'tests/gateway/',
  'tests/refusals/',
  'tests/cards/pages.test.ts',
  'tests/line/damaged.test.ts',
  'tests/store/',
  'tests/cli/',
  'tests/language/',
];

const placeOf = ({ moduleId }: TestSpecification): number => {
  const place = long.findIndex((one) => moduleId.includes(one));
  return place < 0 ? long.length : place;
};

export class LongFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    return files.toSorted((a, b) => placeOf(a) - placeOf(b) || (a.moduleId < b.moduleId ? -1 : 1));
  }
}
