import { describe, expect, it } from 'vitest';
import type { Question } from '../../src/conversation/state.ts';
import { person, SmallLine } from '../support/world.ts';

const hourMs = 3_600_000;

/** A decision is asked of the doctors. */
function open(): SmallLine {
  const line = new SmallLine(person('w', 'worker'), person('d', 'doctor'), person('ee', 'doctor', { rank: 2 }));
  for (const text of [
    'NEW',
    'AK 1982 F',
    '60',
    '70',
    '80',
    '0',
    '40',
    '1',
    '5',
    '3',
    'R 22x15x14',
    '9',
    '9',
    '9',
    'OK',
  ])
    line.text('w', text);
  line.settle();
  for (const id of ['w', 'd', 'ee']) line.heard(id);
  return line;
}

function asked(line: SmallLine, about = 'decision'): Question {
  return [...line.questions.values()].filter((one) => one.about === about && one.answeredAt === null).at(-1)!;
}

const frozen = (line: SmallLine): string | null => [...line.cases.values()][0]!.frozen;

describe('an answer that a doctor takes back', () => {
  it('and that only promised something stops nobody and freezes nothing', () => {
    const line = open();
    line.text('d', `${asked(line).tag} 4`);
    line.text('d', 'WRONG');
    line.settle();
    expect(frozen(line)).toBeNull();
    expect(line.heard('w').at(-1)).toBe(
      'AK: the doctor takes the last answer back and is asked again. What waits for the doctor still waits.',
    );
  });

  it('is replaced by one that the waiting clinic goes on with', () => {
    const line = open();
    line.text('d', `${asked(line).tag} 4`);
    line.text('d', 'WRONG');
    line.settle();
    line.text('d', `${asked(line).tag} 1`);
    line.settle();
    const heard = line.heard('w');
    expect(heard.at(-2)).toContain('AK: the doctor agrees to a needle: RIGHT lump');
    expect(heard.at(-1)).toContain('AK: when do you do the needle? 1 now');
  });

  it('is no longer theirs once another doctor has answered', () => {
    const line = open();
    const { id, tag } = asked(line);
    line.text('d', `${tag} 4`);
    line.due(null, { kind: 'climb', questionId: id, rung: 5 }, [...line.cases.keys()][0]!);
    line.now += hourMs;
    line.settle();
    line.text('ee', `${tag} 1`);
    line.settle();
    line.text('d', 'WRONG');
    expect(frozen(line)).not.toMatch(/^answer-taken-back/);
  });
});

describe('a case that stays frozen', () => {
  it('is asked about again another day: nobody else lets it go on', () => {
    const line = open();
    line.text('w', 'WRONG');
    line.text('w', 'YES');
    line.settle();
    line.text('d', `${asked(line, 'wrong').tag} 2`);
    line.settle();
    line.heard('d');
    line.now += 30 * hourMs;
    line.due(null, { kind: 'overdue', caseId: [...line.cases.keys()][0]! }, [...line.cases.keys()][0]!);
    line.settle();
    expect(line.heard('d').join('\n')).toMatch(/Q\d\d FROZEN AK/);
  });
});

describe('a slow person with two patients', () => {
  it('is asked once which one is meant, and then counts', () => {
    const line = open();
    line.text('w', 'NEW');
    line.text('w', 'BM 1990 M');
    line.heard('w');
    line.now += hourMs;
    line.text('w', '60');
    expect(line.heard('w')[0]).toContain('My question was a while ago');
    line.now += hourMs;
    line.text('w', '60');
    expect(line.heard('w')[0]).toContain('BM: ask the patient');
  });
});
