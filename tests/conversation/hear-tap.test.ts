import { describe, expect, it } from 'vitest';
import { askToken, doctorToken } from '../../src/conversation/ask-token.ts';
import type { Question } from '../../src/conversation/state.ts';
import { person, SmallLine } from '../support/world.ts';

/** Token of the question that is open in a person's last thread that asks. */
function openToken(line: SmallLine, id: string, caseId: string | null = null): string {
  const threads = line.states.get(id)!.threads.filter((one) => one.ask && (caseId === null || one.caseId === caseId));
  const { frameId, entry } = threads.at(-1)!.ask!;
  return askToken(frameId, entry);
}

function begun(): SmallLine {
  const line = new SmallLine(person('w', 'worker'), person('d', 'doctor'), person('c', 'coordinator'));
  line.text('w', 'NEW');
  line.text('w', 'AK 1982 F');
  line.settle();
  line.heard('w');
  return line;
}

describe('a tapped button', () => {
  it('answers its question', () => {
    const line = begun();
    line.tap('w', openToken(line, 'w'), '60');
    expect(line.heard('w').join()).toContain('AK: ask the patient');
  });

  it('tapped twice answers once, and the second tap is called old', () => {
    const line = begun();
    const token = openToken(line, 'w');
    line.tap('w', token, '60');
    line.heard('w');
    line.tap('w', token, '60');
    const heard = line.heard('w').join('\n');
    expect(heard).toContain('That button belongs to an earlier question');
    expect(heard).toContain('AK: ask the patient');
  });

  it('of a question that another patient was put on top of answers that question', () => {
    const line = begun();
    const [first] = [...line.cases.keys()];
    const token = openToken(line, 'w', first);
    line.text('w', 'NEW');
    line.text('w', 'BO 1990 M');
    expect(line.heard('w').join()).toContain('BO: breathing. 1 noisy');
    line.tap('w', token, '60');
    expect(line.heard('w')[0]).toMatch(/^AK: ask the patient/);
  });

  it('an hour later, with another patient open, needs no second asking: it names its question', () => {
    const line = begun();
    line.text('w', 'NEW');
    line.text('w', 'BO 1990 M');
    line.heard('w');
    line.now += 3_600_000;
    line.tap('w', openToken(line, 'w'), '60');
    expect(line.heard('w')[0]).toMatch(/^BO: ask the patient/);
  });

  it('of another question moves nothing in an alarm', () => {
    const line = begun();
    const token = openToken(line, 'w');
    line.text('w', 'SOS');
    line.heard('w');
    line.tap('w', token, '60');
    const heard = line.heard('w').join('\n');
    expect(heard).toContain('That button belongs to an earlier question');
    expect(heard).not.toContain('ask the patient');
  });

  it('fits in what a button can carry, however long the ids are', () => {
    expect(Buffer.byteLength(askToken(`tg:1:2${':d1'.repeat(300)}:f1`, 123_456))).toBeLessThanOrEqual(22);
    expect(Buffer.byteLength(doctorToken(`tg:1:2${':d1'.repeat(300)}:q1`))).toBeLessThanOrEqual(22);
  });

  it('names different questions differently', () => {
    const names = new Set<string>();
    for (let n = 0; n < 20_000; n += 1) names.add(askToken(`tg:55:${n}:f1`, 1));
    expect(names.size).toBe(20_000);
  });
});

describe("a button under a doctor's question", () => {
  /** A question answered, and another one that got its tag. */
  function sameTag(): { line: SmallLine; old: Question; open: Question } {
    const line = begun();
    line.text('w', 'DOCTOR may she eat before');
    line.settle();
    const old = [...line.questions.values()][0]!;
    line.text('d', `${old.tag} she may`);
    line.text('w', 'DOCTOR and drink');
    line.settle();
    const later = [...line.questions.values()].at(-1)!;
    const open = { ...later, tag: old.tag };
    line.questions.set(later.id, open);
    line.heard('d');
    return { line, old, open };
  }

  it('does not answer another question that was given the same tag since', () => {
    const { line, old, open } = sameTag();
    line.tap('d', doctorToken(old.id), `${old.tag} 1`);
    expect(line.heard('d').join()).toContain('That button belongs to an earlier question');
    expect(line.questions.get(open.id)?.answeredAt).toBeNull();
    line.tap('d', doctorToken(open.id), `${open.tag} 1`);
    expect(line.heard('d').join()).toContain(`Q${open.tag} noted`);
  });

  it('tapped after the answer is too late, and this is said', () => {
    const line = begun();
    line.text('w', 'DOCTOR may she eat before');
    line.settle();
    const question = [...line.questions.values()][0]!;
    line.text('d', `${question.tag} she may`);
    line.heard('d');
    line.tap('d', doctorToken(question.id), `${question.tag} 1`);
    expect(line.heard('d').join()).toContain('is not open any more');
  });

  it('that nobody was asked changes nothing', () => {
    const line = begun();
    line.tap('d', doctorToken('no-such-question'), '47 1');
    expect(line.heard('d').join()).toContain('That button belongs to an earlier question');
  });
});
