import { expect, it } from 'vitest';
import type { CaseEvent } from '../../../src/case/events.ts';
import { cautionsTold } from './cautions-told.ts';
import { codeIssued, leftLump, madeUp, opened } from './made-up.ts';

const decided = (...cautions: readonly string[]): CaseEvent => ({
  ...{ type: 'decided', decision: 'sample', policy: 'common-practice', proposed: [] },
  assessment: { decision: 'sample', because: [], cautions: [...cautions] },
});
const text = (words: string) => ({ kind: 'said', flow: 'decision', text: words }) as const;

it('a caution that came with the day of the needle and that nobody read is a breach', () => {
  const walked = madeUp([opened, ...leftLump, decided(), 30, decided('antiplatelet-bruising'), codeIssued()]);
  expect(cautionsTold.broken(walked)).toEqual(['nobody was told antiplatelet-bruising']);
});

it('one that was read, on one screen or two, is none; nor are systems that say it themselves', () => {
  const [bruises, keepOn] = ['AK: With aspirin and the like there is more bruising.', 'AK: Do not stop it.'];
  const told = [opened, ...leftLump, decided('antiplatelet-bruising', 'policies-disagree')];
  expect(cautionsTold.broken(madeUp([...told, text(`${bruises} Do not stop it.`), codeIssued()]))).toEqual([]);
  expect(cautionsTold.broken(madeUp([...told, text(bruises), text(keepOn), codeIssued()]))).toEqual([]);
  expect(cautionsTold.broken(madeUp([...told, text(bruises), codeIssued()]))).toHaveLength(1);
});
