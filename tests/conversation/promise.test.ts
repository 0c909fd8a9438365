import { describe, expect, it } from 'vitest';
import type { Question } from '../../src/conversation/state.ts';
import { person, SmallLine } from '../support/world.ts';

const minuteMs = 60_000;
const hourMs = 60 * minuteMs;

/** A worker, three doctors in order, a coordinator; the worker begins a patient. */
function begun(): SmallLine {
  const line = new SmallLine(
    person('w', 'worker'),
    person('d', 'doctor'),
    person('ee', 'doctor', { rank: 2 }),
    person('fff', 'doctor', { rank: 3 }),
    person('cccc', 'coordinator'),
  );
  line.text('w', 'NEW');
  line.text('w', 'AK 1982 F');
  return line;
}

/** The worker asks in words, at home; nobody waits. */
function asked(): { line: SmallLine; tag: string } {
  const line = begun();
  line.text('w', 'DOCTOR may she eat before');
  line.settle();
  for (const id of ['w', 'd', 'ee']) line.heard(id);
  return { line, tag: only(line).tag };
}

function only(line: SmallLine): Question {
  return [...line.questions.values()].at(-1)!;
}

function pass(line: SmallLine, ms: number): void {
  line.now += ms;
  line.settle();
}

describe('"call me"', () => {
  it('is a promise: the question stays open and comes one rung higher when its time is over', () => {
    const { line, tag } = asked();
    line.text('d', `${tag} 1`);
    line.settle();
    expect(line.heard('d')[0]).toMatch(/noted: AK call me\. The clinic gets it\. Not done by 5 MAR 11:00: I ask again/);
    expect(line.heard('w').join()).toContain('AK: d answers: call me');
    pass(line, 23 * hourMs);
    expect(line.heard('ee')).toEqual([]);
    pass(line, hourMs);
    expect(line.heard('ee')[0]).toContain(`Q${tag} ASKS`);
    expect(line.heard('d')).toEqual([
      `Q${tag} AK: nothing is recorded yet, so ee is asked too. When it is done: ${tag} DONE. Or send ${tag} and your decision.`,
    ]);
  });

  it('is over when the doctor says that it is done', () => {
    const { line, tag } = asked();
    line.text('d', `${tag} 1`);
    line.text('d', `${tag} done`);
    expect(line.heard('d').at(-1)).toContain(`Q${tag} AK: it is done, noted`);
    pass(line, 48 * hourMs);
    expect(line.heard('ee')).toEqual([]);
  });

  it('in an alarm holds for minutes only, and a better patient ends it', () => {
    const line = begun();
    line.text('w', 'SOS');
    line.settle();
    line.text('d', `${only(line).tag} 1`);
    expect(only(line).promiseUntil).toBe(line.now + 15 * minuteMs);
    pass(line, 14 * minuteMs);
    expect(line.heard('ee')).toEqual([]);
    pass(line, minuteMs);
    expect(line.heard('ee')[0]).toContain('NOW SOS');
  });

  it('where a decision waits, "done" asks for the decision', () => {
    const line = begun();
    for (const text of ['60', '70', '80', '0', '40', '1', '5', '3', 'R 22x15x14', '9', '9', '9', 'OK'])
      line.text('w', text);
    line.settle();
    const { tag } = only(line);
    line.text('d', `${tag} 4`);
    expect(only(line).promiseUntil).toBe(line.now + 30 * minuteMs);
    line.text('d', `${tag} done`);
    expect(line.heard('d').at(-1)).toContain(`Q${tag} AK: what was decided? Reply ${tag} and: 1`);
    line.heard('w');
    line.text('d', `${tag} 1`);
    line.settle();
    expect(line.heard('w').join()).toContain('the doctor agrees to a needle');
  });

  it('by a doctor who then answers another way does not hold that answer back', () => {
    const { line, tag } = asked();
    line.text('d', `${tag} 1`);
    line.text('d', `${tag} yes, she may`);
    expect(only(line).answeredAt).toBe(line.now);
  });

  it('taken back as not sent by the doctor is asked again under a new tag', () => {
    const { line, tag } = asked();
    line.text('d', `${tag} 1`);
    line.text('d', 'WRONG');
    line.settle();
    const open = [...line.questions.values()].filter((one) => one.about === 'asked' && one.answeredAt === null);
    expect(open.map((one) => one.tag === tag)).toEqual([false]);
  });
});

describe('"not me"', () => {
  it.each(['not me', 'NOT ME.', 'pass'])('said as %j asks the next doctor at once', (said) => {
    const { line, tag } = asked();
    line.text('d', `${tag} ${said}`);
    line.settle();
    expect(line.heard('d')).toEqual([`Q${tag} AK: passed on to ee. You may still answer.`]);
    expect(line.heard('ee')[0]).toContain(`Q${tag} ASKS`);
    expect(line.heard('w')).toEqual([]);
  });

  it('hands back what this doctor had in hand', () => {
    const { line, tag } = asked();
    line.text('d', `${tag} 1`);
    line.text('d', `${tag} not me`);
    line.settle();
    expect(only(line).promiseUntil).toBeNull();
    expect(line.heard('ee').at(-1)).toContain(`Q${tag} ASKS`);
  });

  it('from the last of the ladder gives the clinic the number to call and the coordinator the alarm', () => {
    const { line, tag } = asked();
    for (const id of ['d', 'ee', 'fff']) {
      line.text(id, `${tag} not me`);
      line.settle();
    }
    expect(line.heard('fff').at(-1)).toContain('nobody else is left to ask, so it stays with you');
    expect(line.heard('w').join()).toContain('no doctor has answered yet. Phone bench:voice');
    expect(line.heard('cccc').join()).toContain('No doctor has answered');
    expect(only(line).answeredAt).toBeNull();
  });

  it('without a tag changes nothing and says how', () => {
    const { line, tag } = asked();
    line.text('d', 'not me');
    expect(line.heard('d')).toEqual([`That answer needs its tag. Send it like this: ${tag} not me`]);
  });
});

describe('duty', () => {
  it('puts who is off at the end of the ladder, not off it', () => {
    const line = begun();
    line.text('d', 'OFF 8 MAR');
    expect(line.heard('d')[0]).toMatch(/^You are OFF duty until 8 MAR 07:00\. I ask the others first/);
    line.text('w', 'SOS');
    line.settle();
    expect(line.heard('ee')[0]).toContain('NOW SOS');
    expect(line.heard('d')).toEqual([]);
    pass(line, 5 * minuteMs);
    pass(line, 5 * minuteMs);
    expect(line.heard('d')[0]).toContain('NOW SOS');
  });

  it('comes back by itself at the day said, and at once by ON', () => {
    for (const back of ['ON', null]) {
      const line = begun();
      line.text('d', 'OFF till 8 MAR');
      line.settle();
      if (back) line.text('d', back);
      else line.now = Date.UTC(2030, 2, 8, 4);
      line.text('w', 'SOS');
      line.heard('d');
      line.settle();
      expect(line.heard('d')[0]).toContain('NOW SOS');
    }
  });

  it('gives what waits, and what was promised, to the next doctor', () => {
    const { line, tag } = asked();
    line.text('d', `${tag} 1`);
    line.text('d', 'OFF');
    line.settle();
    expect(line.heard('d').at(-1)).toContain('I passed on 1.');
    expect(line.heard('ee').at(-1)).toContain(`Q${tag} ASKS`);
  });

  it.each([
    ['DUTY 8-11', false],
    ['DUTY 8-17', true],
    ['DUTY 20 8', false],
  ])('%s at 11:00 is on duty: %s', (said, here) => {
    const line = begun();
    line.text('d', said);
    line.heard('d');
    line.text('w', 'SOS');
    line.settle();
    expect(line.heard('d').length > 0).toBe(here);
  });

  it('of nobody tells the coordinator, and who is off is still asked', () => {
    const line = begun();
    for (const id of ['d', 'ee', 'fff']) line.text(id, 'OFF');
    line.text('w', 'SOS');
    line.settle();
    expect(line.heard('cccc').join()).toContain('fff is off duty, and no other doctor is on duty');
    expect(line.heard('d').join()).toContain('NOW SOS');
  });

  it.each(['ON my way', 'OFF to theatre', 'DUTY calls'])('is not changed by %j', (said) => {
    const line = begun();
    line.text('d', said);
    expect(line.heard('d')[0]).toContain('I cannot read that');
    expect(line.roster.find((one) => one.id === 'd')?.offUntil).toBeUndefined();
  });

  it('is no word of a worker: a sentence may begin with it', () => {
    const line = begun();
    line.heard('w');
    line.text('w', 'on monday');
    expect(line.heard('w').join()).not.toContain('not a word for you');
  });
});

describe('TAKE and a tag', () => {
  it("brings a colleague's question, which may then be answered", () => {
    const { line, tag } = asked();
    line.text('fff', `TAKE ${tag}`);
    line.settle();
    expect(line.heard('fff')[0]).toContain(`Q${tag} ASKS`);
    expect(line.heard('d')).toEqual([`Q${tag} AK: fff looks at it too.`]);
    line.text('fff', `${tag} yes`);
    expect(only(line).answeredBy).toBe('fff');
  });

  it('of no question changes nothing', () => {
    const { line, tag } = asked();
    line.text('fff', `TAKE ${tag === '10' ? '11' : '10'}`);
    expect(line.heard('fff')[0]).toContain('I have no open question with that tag');
  });
});

describe('at night', () => {
  it('what can wait is asked in the morning, an alarm at once', () => {
    const line = begun();
    line.now = Date.UTC(2030, 2, 4, 20);
    line.text('w', 'DOCTOR may she eat before');
    line.settle();
    expect(line.heard('d')).toEqual([]);
    line.text('w', 'SOS');
    line.settle();
    expect(line.heard('d')[0]).toContain('NOW SOS');
    pass(line, 8 * hourMs);
    expect(line.heard('d').join()).toContain('ASKS');
  });
});
