import { describe, expect, it } from 'vitest';
import { insideAnswers, measureGrowth } from './growth.ts';
import { recordQuestions } from './questions.ts';
import { longVisit } from './visit.ts';

describe('a line that has grown', () => {
  it('is measured beside an empty one, with a whole case on disk by table', async () => {
    const counts = { people: 2, rounds: 1, warmRounds: 0, wholeCases: 400, thinCases: 2_000, roster: 9, timers: 9 };
    const { lines, answers, wholeCase } = await measureGrowth(counts);
    expect(lines.map(({ what }) => what)).toEqual([
      'an empty line',
      '400 whole cases stored',
      '2,000 cases stored without their records and texts',
      '9 people on the roster',
      '9 timers set',
    ]);
    const [empty, whole, thin] = lines;
    expect(whole!.bytes).toBeGreaterThan(empty!.bytes + 400 * 10_000);
    expect(thin!.bytes).toBeGreaterThan(empty!.bytes + 2_000 * 200);
    for (const { cpuMs } of lines) expect(cpuMs.median).toBeGreaterThan(0);
    expect(answers.late.median).toBeGreaterThan(0);
    expect(wholeCase.heard + wholeCase.sent).toBeGreaterThan(90);
    expect(wholeCase.bytes.messages).toBeGreaterThan(wholeCase.bytes.cases!);
  });

  it('answers the same question early and late in a case of forty', async () => {
    const questions = await recordQuestions(longVisit);
    const asked = Object.values(insideAnswers).map((turn) => questions[turn - 1]!);
    for (const { text, answer } of asked) {
      expect(text).toContain('what is inside?');
      expect(answer).toBe('3');
    }
  });
});
