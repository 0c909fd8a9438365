import { describe, expect, it } from 'vitest';
import type { Question } from '../../src/conversation/state.ts';
import { person, SmallLine } from '../support/world.ts';

const minuteMs = 60_000;

/** A case about which two questions are open that one doctor does not answer. */
function twoOpen(): { line: SmallLine; older: Question; newer: Question; caseId: string } {
  const line = new SmallLine(person('w', 'worker'), person('d', 'doctor'), person('c', 'coordinator'));
  for (const text of ['NEW', 'AK 1982 F', '0', 'DOCTOR is the lump hard']) line.text('w', text);
  line.settle();
  line.now += minuteMs;
  line.text('w', 'DOCTOR and the voice');
  const [older, newer] = [...line.questions.values()];
  return { line, older: older!, newer: newer!, caseId: [...line.cases.keys()][0]! };
}

function climb(line: SmallLine, question: Question, caseId: string): readonly string[] {
  const rung = line.questions.get(question.id)!.rung + 1;
  line.heard('c');
  line.due(null, { kind: 'climb', questionId: question.id, rung }, caseId);
  // Only what is due at this instant: the question's own next rung comes later.
  line.settle();
  return line.heard('c').filter((text) => text.includes('No doctor has answered'));
}

describe('the coordinator, while no doctor answers', () => {
  it('hears of each question once every doctor was asked, and afterwards of the newest for all of its case', () => {
    const { line, older, newer, caseId } = twoOpen();
    expect(climb(line, older, caseId)).toHaveLength(1);
    expect(climb(line, older, caseId)).toHaveLength(1);
    expect(climb(line, newer, caseId)).toHaveLength(1);
    expect(climb(line, older, caseId)).toEqual([]);
    expect(climb(line, newer, caseId)).toHaveLength(1);
  });

  it('hears of the older one again as soon as the newer is answered', () => {
    const { line, older, newer, caseId } = twoOpen();
    for (const one of [older, newer]) climb(line, one, caseId);
    expect(climb(line, older, caseId)).toEqual([]);
    line.text('d', `${newer.tag} look again tomorrow`);
    expect(climb(line, older, caseId)).toHaveLength(1);
  });
});
