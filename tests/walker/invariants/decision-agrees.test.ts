import { expect, it } from 'vitest';
import type { CaseEvent } from '../../../src/case/events.ts';
import { findingsOf } from '../../../src/case/findings-of.ts';
import { assess, weighCase } from '../../../src/clinical/indication.ts';
import { decisionAgrees } from './decision-agrees.ts';
import { answer, leftLump, madeUp, opened } from './made-up.ts';

const said: readonly CaseEvent[] = [
  opened,
  ...leftLump,
  answer('patient.birthYear', 1982),
  answer('dangerSigns', []),
  answer('examined', true),
  answer('ultrasound.done', true),
];

function decidedWith(change: Readonly<Record<string, unknown>>, proposed?: readonly string[]): CaseEvent {
  const findings = findingsOf(madeUp(said).of, { guidance: true, year: 2030 });
  const assessment = { ...JSON.parse(JSON.stringify(assess(findings))), ...change };
  const own = assessment.proposed ?? weighCase(findings, 'common-practice').selection.proposed;
  return { type: 'decided', decision: 'x', policy: 'common-practice', assessment, proposed: proposed ?? own };
}

it('a decision or a proposal that assess does not come to is a breach', () => {
  expect(decisionAgrees.broken(madeUp([...said, decidedWith({ decision: 'no-sampling' })]))).toHaveLength(1);
  expect(decisionAgrees.broken(madeUp([...said, decidedWith({}, ['n7'])]))).toHaveLength(1);
});

it('the same decision is none', () => {
  expect(decisionAgrees.broken(madeUp([...said, decidedWith({})]))).toEqual([]);
});

it("after a doctor's yes it may say that nobody can tell which lump is felt, before one it may not", () => {
  const unclear = answer('palpable', 'unknown', 'n1');
  const because = JSON.parse(JSON.stringify(decidedWith({}))).assessment.because;
  const told = decidedWith({ because: ['palpable-unknown', ...because] });
  const yes: CaseEvent = { type: 'doctor-answered', question: 'q1', answer: 'drain', words: '' };
  expect(decisionAgrees.broken(madeUp([...said, yes, unclear, told]))).toEqual([]);
  expect(decisionAgrees.broken(madeUp([...said, unclear, told]))).toHaveLength(1);
  expect(decisionAgrees.broken(madeUp([...said, yes, told]))).toHaveLength(1);
});
