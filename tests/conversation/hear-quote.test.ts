import { describe, expect, it } from 'vitest';
import { askToken, doctorToken, lostToken } from '../../src/conversation/ask-token.ts';
import type { Question } from '../../src/conversation/state.ts';
import { person, SmallLine } from '../support/world.ts';

/** Token of the question that is open about a case. */
function tokenOf(line: SmallLine, caseId: string): string {
  const { frameId, entry } = line.states.get('w')!.threads.find((one) => one.ask && one.caseId === caseId)!.ask!;
  return askToken(frameId, entry);
}

/** Two patients at the question about breathing, BO on top; and the question about AK. */
function two(): { line: SmallLine; token: string } {
  const line = new SmallLine(person('w', 'worker'), person('d', 'doctor'), person('c', 'coordinator'));
  line.text('w', 'NEW');
  line.text('w', 'AK 1982 F');
  const token = tokenOf(line, [...line.cases.keys()][0]!);
  line.text('w', 'NEW');
  line.text('w', 'BO 1990 M');
  line.settle();
  expect(line.heard('w').at(-1)).toMatch(/^BO: breathing/);
  return { line, token };
}

const answers = (line: SmallLine, tag: string): object =>
  [...line.cases.values()].find((one) => one.tag === tag)?.answers ?? {};

describe('a text sent as a reply to an earlier question', () => {
  it('answers that question and not the one that was asked last', () => {
    const { line, token } = two();
    line.quote('w', token, '60');
    expect(line.heard('w')[0]).toMatch(/^AK: ask the patient/);
    expect(answers(line, 'BO')).not.toHaveProperty('dangerSigns');
  });

  it('needs no second asking an hour later, since it names its question', () => {
    const { line, token } = two();
    line.now += 3_600_000;
    line.quote('w', token, '60');
    expect(line.heard('w')[0]).toMatch(/^AK: ask the patient/);
  });

  it('that is no answer to it is told what is, and the other patient stays as they are', () => {
    const { line, token } = two();
    line.quote('w', token, 'maybe');
    const heard = line.heard('w').join('\n');
    expect(heard).toMatch(/^AK: /);
    expect(heard).toMatch(/not one of the answers|cannot read/);
    expect(answers(line, 'BO')).not.toHaveProperty('dangerSigns');
  });

  it('that was answered changes nothing, says so, and asks the open question again', () => {
    const { line, token } = two();
    line.quote('w', token, '60');
    line.heard('w');
    line.quote('w', token, '1');
    const heard = line.heard('w').join('\n');
    expect(heard).toMatch(/^The question that you replied to is answered or over\. Nothing was changed\./);
    expect(heard).toMatch(/AK: ask the patient/);
    expect(line.heard('d')).toEqual([]);
  });

  it.each(['YES', 'B', 'no fixative left, what now'])('that was answered takes %j for nothing else', (words) => {
    const { line, token } = two();
    line.quote('w', token, '60');
    line.heard('w');
    line.quote('w', token, words);
    expect(line.heard('w')[0]).toContain('is answered or over. Nothing was changed.');
  });

  it('is heard as an alarm whatever it quotes', () => {
    for (const old of [false, true]) {
      const { line, token } = two();
      if (old) line.quote('w', token, '60');
      line.quote('w', token, 'SOS she faints');
      line.settle();
      expect(line.heard('d').join()).toContain('SOS');
    }
  });

  it.each(['LIST', 'NEW', '?'])('is the command %s whatever it quotes', (word) => {
    for (const old of [false, true]) {
      const { line, token } = two();
      if (old) line.quote('w', token, '60');
      line.heard('w');
      line.quote('w', token, word);
      expect(line.heard('w').join()).not.toMatch(/answered or over|not one of the answers/);
    }
  });

  it('stops the line when it says STOP', () => {
    const { line, token } = two();
    line.quote('w', token, 'STOP');
    expect(line.roster.find((one) => one.id === 'w')?.state).toBe('stopped');
  });

  it('moves nothing in an alarm', () => {
    const { line, token } = two();
    line.text('w', 'SOS');
    line.heard('w');
    line.quote('w', token, '60');
    expect(line.heard('w')[0]).toContain('is answered or over');
    expect(answers(line, 'AK')).not.toHaveProperty('dangerSigns');
  });

  it('to one whose words were erased is counted for nobody else', () => {
    const { line } = two();
    line.quote('w', lostToken, '60');
    expect(line.heard('w')[0]).toContain('is answered or over. Nothing was changed.');
    expect(answers(line, 'BO')).not.toHaveProperty('dangerSigns');
  });

  it('that quotes no question is an ordinary text', () => {
    const { line } = two();
    line.quote('w', null, '60');
    expect(line.heard('w')[0]).toMatch(/^BO: ask the patient/);
  });
});

describe("a doctor's text sent as a reply to a question", () => {
  function asked(): { line: SmallLine; first: Question; second: Question } {
    const { line } = two();
    line.text('w', 'DOCTOR may he eat before');
    line.settle();
    line.text('w', 'DOCTOR and may he drink');
    line.settle();
    line.heard('d');
    const [first, second] = [...line.questions.values()];
    return { line, first: first!, second: second! };
  }
  const settled = (line: SmallLine, of: Question): unknown => line.questions.get(of.id)?.answer;

  it('needs no tag: the first one is answered, not the one shown last', () => {
    const { line, first, second } = asked();
    line.quote('d', doctorToken(first.id), 'yes, a little');
    expect(line.heard('d')[0]).toContain(`Q${first.tag} noted`);
    expect([settled(line, first), settled(line, second)]).toEqual(['words', null]);
  });

  it('may carry its tag too, and another tag that was typed goes before the quote', () => {
    const { line, first, second } = asked();
    line.quote('d', doctorToken(first.id), `${first.tag} yes`);
    expect(line.heard('d')[0]).toMatch(new RegExp(`^Q${first.tag} noted: \\w+ "yes"\\.`));
    line.quote('d', doctorToken(first.id), `${second.tag} water only`);
    expect(line.heard('d')[0]).toContain(`Q${second.tag} noted`);
  });

  it('is a command when it says nothing else', () => {
    const { line, first } = asked();
    line.quote('d', doctorToken(first.id), 'LIST');
    expect(settled(line, first)).toBeNull();
  });

  it('to one that was answered is too late, and to one that nobody knows changes nothing', () => {
    const { line, first, second } = asked();
    line.quote('d', doctorToken(first.id), 'yes');
    line.heard('d');
    line.quote('d', doctorToken(first.id), 'no');
    expect(line.heard('d').join()).toContain('is not open any more');
    line.quote('d', doctorToken('no-such-question'), '1');
    expect(line.heard('d').join()).toContain('is answered or over. Nothing was changed.');
    expect(settled(line, second)).toBeNull();
  });
});
