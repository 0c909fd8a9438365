import { expect, it } from 'vitest';
import type { CaseEvent } from '../../../src/case/events.ts';
import { codeIssued, leftLump, madeUp, opened } from './made-up.ts';
import { needleAgreed } from './needle-agreed.ts';

const decided = (decision: string, sampleToo: string | null = null): CaseEvent => ({
  ...{ type: 'decided', decision, policy: 'common-practice', proposed: [] },
  assessment: { decision, because: [], sampleToo },
});
const says = (answer: string): CaseEvent => ({ type: 'doctor-answered', question: 'q', answer, words: '' });
const walked = (...events: readonly CaseEvent[]) => madeUp([opened, ...leftLump, ...events, codeIssued()]);

it('a code where the doctor was to decide and has not is a breach', () => {
  expect(needleAgreed.broken(walked(decided('refer-urgent', 'ask-doctor')))).toEqual([
    's1 under refer-urgent, and no doctor has agreed',
  ]);
  expect(needleAgreed.broken(walked(decided('undetermined'), says('call-me')))).toHaveLength(1);
});

it('one that is advised, one beside an urgent referral and one that a doctor agreed to are none', () => {
  expect(needleAgreed.broken(walked(decided('sample')))).toEqual([]);
  expect(needleAgreed.broken(walked(decided('refer-urgent', 'yes')))).toEqual([]);
  expect(needleAgreed.broken(walked(decided('undetermined'), says('sample')))).toEqual([]);
});
