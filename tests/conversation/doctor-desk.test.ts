import { describe, expect, it } from 'vitest';
import { doctorToken } from '../../src/conversation/ask-token.ts';
import { person, SmallLine } from '../support/world.ts';

/** A worker, two doctors in order, and one open question in the worker's words. */
function asked(): { line: SmallLine; tag: string } {
  const line = new SmallLine(
    person('w', 'worker'),
    person('d', 'doctor'),
    person('ee', 'doctor', { rank: 2 }),
    person('c', 'coordinator'),
  );
  line.text('w', 'NEW');
  line.text('w', 'AK 1982 F');
  line.text('w', 'DOCTOR may she eat before');
  line.settle();
  line.heard('w');
  return { line, tag: [...line.questions.values()][0]!.tag };
}

function answerOf(line: SmallLine): string | null {
  return [...line.questions.values()][0]!.answer;
}

describe("a doctor's answer", () => {
  it('with its tag counts, is echoed, and reaches the worker', () => {
    const { line, tag } = asked();
    expect(line.heard('d')[0]).toMatch(new RegExp(`^Q${tag} ASKS AK F 1982.*may she eat before`));
    line.text('d', `Q${tag}: yes, she may`);
    line.settle();
    expect(line.heard('d')[0]).toContain(`Q${tag} noted: AK "yes, she may". The clinic gets it. Not you? WRONG`);
    expect(line.heard('w').join('\n')).toContain('AK: d answers: "yes, she may"');
  });

  it('belongs to the open question when an answered one had the same tag', () => {
    const { line, tag } = asked();
    line.text('d', `${tag} yes, she may`);
    line.text('w', 'DOCTOR and may she drink');
    const second = [...line.questions.values()].at(-1)!;
    line.questions.set(second.id, { ...second, tag });
    line.settle();
    line.heard('d');
    line.text('d', `${tag} water only`);
    expect(line.questions.get(second.id)?.answeredAt).not.toBeNull();
    expect(line.heard('d').at(-1)).toContain(`Q${tag} noted`);
  });

  it('as a bare digit counts where it can but add care', () => {
    const { line } = asked();
    line.text('d', '1');
    expect(answerOf(line)).toBe('call-me');
  });

  it('as a bare digit never lets anything go on', () => {
    const { line } = asked();
    const before = line.questions.size;
    line.text('w', 'WRONG');
    line.text('w', 'YES');
    line.settle();
    const frozen = [...line.questions.values()][before]!;
    line.text('d', '1');
    line.settle();
    expect(line.questions.get(frozen.id)?.answeredAt).toBeNull();
    expect(line.heard('d').at(-1)).toBe(`That answer needs its tag. Send it like this: ${frozen.tag} 1`);
    line.text('d', `${frozen.tag} 1`);
    expect([...line.cases.values()][0]?.frozen).toBeNull();
  });

  it('is echoed with the words after its digit', () => {
    const { line, tag } = asked();
    line.text('d', `${tag} 1 at noon`);
    expect(line.heard('d').at(-1)).toContain(`Q${tag} noted: AK call me: "at noon". The clinic gets it`);
  });

  it.each([
    ['6 s before the question was shown', -6, false],
    ['5 s before', -5, true],
    ['with it', 0, true],
  ])('as a bare digit sent %s counts: %s', (_, seconds, counts) => {
    const { line } = asked();
    line.text('d', '1', line.now + Number(seconds) * 1000);
    expect(answerOf(line) !== null).toBe(counts);
  });

  it('as a bare digit to the first of two showings counts', () => {
    const { line } = asked();
    const sentAt = line.now;
    line.now += 60_000;
    line.due('d', { kind: 'ask-doctor', questionId: [...line.questions.keys()][0]!, rung: 1 });
    line.text('d', '1', sentAt);
    expect(answerOf(line)).toBe('call-me');
  });

  it('comes first once: a later one becomes a note and the other doctor hears', () => {
    const { line, tag } = asked();
    line.due(null, { kind: 'climb', questionId: [...line.questions.keys()][0]!, rung: 1 }, [...line.cases.keys()][0]!);
    line.settle();
    line.text('ee', `${tag} yes`);
    line.settle();
    expect(line.heard('d').at(-1)).toContain(`Q${tag} AK: ee answered: "yes`);
    const late = line.text('d', `${tag} no, wait`);
    expect(answerOf(line)).toBe('words');
    expect(late.cases.flatMap((one) => one.records.map((record) => record.event))).toEqual([
      { type: 'noted', words: `Q${tag} no, wait` },
    ]);
  });

  it('with a tag that is not his changes nothing, and three in a day tell the coordinator', () => {
    const { line, tag } = asked();
    const other = tag === '10' ? '11' : '10';
    for (const minutes of [0, 20, 24 * 60 + 1]) {
      line.now += minutes * 60_000;
      line.text('d', `${other} 1`);
    }
    line.settle();
    expect(line.heard('c').join()).not.toContain('Wrong tags');
    line.text('d', `${other} 1`);
    line.text('d', `${other} 1`);
    line.settle();
    expect(line.heard('c').join()).toContain('Wrong tags or wrong confirming digits keep coming from the phone of d');
    expect(answerOf(line)).toBeNull();
  });

  it('by a button carries the tag', () => {
    const { line, tag } = asked();
    line.tap('d', doctorToken([...line.questions.keys()][0]!), `${tag} 1`);
    expect(answerOf(line)).toBe('call-me');
  });

  it('from a doctor who was not asked is a wrong tag', () => {
    const { line, tag } = asked();
    line.text('ee', `${tag} go on`);
    expect(line.heard('ee').join()).toContain('I have no open question with that tag for you');
    expect(answerOf(line)).toBeNull();
  });
});

describe('a frozen case', () => {
  /** A decision is open and the clinic has said WRONG. */
  function frozen(): { line: SmallLine; decide: string; release: string } {
    const line = new SmallLine(person('w', 'worker'), person('d', 'doctor'));
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
      'WRONG',
      'YES',
    ]) {
      line.text('w', text);
    }
    line.settle();
    const tagOf = (about: string) => [...line.questions.values()].find((one) => one.about === about)!.tag;
    return { line, decide: tagOf('decision'), release: tagOf('wrong') };
  }

  const openOf = (line: SmallLine, about: string) =>
    [...line.questions.values()].filter((one) => one.about === about && one.answeredAt === null);

  it('takes no answer that lets it go on before its release', () => {
    const { line, decide, release } = frozen();
    line.text('d', `${decide} 1`);
    expect(line.heard('d').at(-1)).toContain(`Q${decide} AK: the case is FROZEN, so nothing was changed. ${release} 1`);
    expect(openOf(line, 'decision')).toHaveLength(1);
    line.text('d', `${release} 1`);
    line.text('d', `${decide} 1`);
    expect(openOf(line, 'decision')).toHaveLength(0);
  });

  it.each(['4', 'wait for my call'])('takes %j, which only adds care', (answer) => {
    const { line, decide } = frozen();
    line.text('d', `${decide} ${answer}`);
    expect(openOf(line, 'decision').map((one) => one.promiseUntil)).toEqual([line.now + 30 * 60_000]);
    expect([...line.cases.values()][0]?.frozen).not.toBeNull();
  });

  it('by an answer taken back goes on with the same answer, and with another one only after a release', () => {
    for (const [again, goesOn] of [
      ['1', true],
      ['3', false],
    ] as const) {
      const { line, decide, release } = frozen();
      line.text('d', `${release} 1`);
      line.text('d', `${decide} 1`);
      line.settle();
      line.text('d', 'WRONG');
      line.settle();
      line.text('d', `${openOf(line, 'decision')[0]!.tag} ${again}`);
      line.settle();
      expect([...line.cases.values()][0]?.frozen === null).toBe(goesOn);
      expect(openOf(line, 'wrong')).toHaveLength(goesOn ? 0 : 1);
      expect(line.heard('w').some((one) => one.includes('now the answer is: refer. The one before does NOT'))).toBe(
        !goesOn,
      );
    }
  });

  it('once kept frozen is not asked about for ever', () => {
    const { line, release } = frozen();
    line.text('d', `${release} 1`);
    line.text('d', 'WRONG');
    line.settle();
    line.text('d', `${openOf(line, 'wrong')[0]!.tag} 2`);
    line.settle();
    expect(openOf(line, 'wrong')).toEqual([]);
    expect([...line.cases.values()][0]?.frozen).not.toBeNull();
  });
});

describe('a doctor who leaves the line', () => {
  it('passes the open questions to the next rung at once, and each rung is climbed once', () => {
    const { line, tag } = asked();
    const id = [...line.questions.keys()][0]!;
    line.text('d', 'STOP');
    line.settle();
    expect(line.heard('ee')[0]).toContain(`Q${tag} ASKS`);
    const again = line.due(null, { kind: 'climb', questionId: id, rung: 1 }, [...line.cases.keys()][0]!);
    expect(again.due).toEqual([]);
  });
});
