import { describe, expect, it } from 'vitest';
import { longestText } from '../../src/conversation/hear.ts';
import { morning, person, SmallLine } from '../support/world.ts';

function asked(): SmallLine {
  const line = new SmallLine(person('w', 'worker'), person('d', 'doctor'), person('c', 'coordinator'));
  line.text('w', 'NEW');
  line.text('w', 'AK 1982 F');
  line.settle();
  line.heard('w');
  return line;
}

const secondMs = 1000;

describe('a text that comes late', () => {
  it.each([
    ['6 s before its question', morning + 54 * secondMs, true],
    ['5 s before its question', morning + 55 * secondMs, false],
    ['at the same instant', morning + 60 * secondMs, false],
    ['with a clock that runs ahead', morning + 3600 * secondMs, false],
    ['from a network that says no time', null, false],
  ] as const)('sent %s: refused %s', (_, networkAt, refused) => {
    const line = new SmallLine(person('w', 'worker'));
    line.text('w', 'NEW');
    line.now = morning + 60 * secondMs;
    line.text('w', 'AK 1982 F', line.now);
    line.heard('w');
    line.text('w', '60', networkAt);
    const heard = line.heard('w').join('\n');
    expect(heard.includes('did not take it as the answer')).toBe(refused);
    expect(heard.includes('ask the patient')).toBe(!refused);
  });

  it('counts the first showing when the question was repeated meanwhile', () => {
    const line = asked();
    line.now = morning + 60 * secondMs;
    line.text('w', '?');
    expect(line.heard('w').join('\n')).toContain('breathing. 1 noisy');
    line.text('w', '60', morning + 10 * secondMs);
    expect(line.heard('w').join('\n')).toContain('AK: ask the patient');
  });
});

describe('texts that are no answer', () => {
  it('an empty text and one that is too long leave the question open', () => {
    const line = asked();
    line.text('w', ' ');
    expect(line.heard('w').join()).toContain('Your text came empty');
    line.text('w', '60'.repeat(longestText + 1));
    expect(line.heard('w').join()).toContain('too long for an answer');
    line.text('w', '60');
    expect(line.heard('w').join()).toContain('AK: ask the patient');
  });

  it('after three in a row a person is offered and the coordinator hears once', () => {
    const line = asked();
    for (let n = 0; n < 4; n += 1) line.text('w', 'perhaps');
    line.settle();
    expect(line.heard('w').filter((one) => one.includes('Do you want a person to help?'))).toHaveLength(2);
    expect(line.heard('c').filter((one) => one.includes('could not get through'))).toHaveLength(1);
  });

  it('a machine that sends the same over and over is answered no more after five, and told so once', () => {
    const line = asked();
    for (let n = 0; n < 12; n += 1) line.text('w', 'echo');
    line.settle();
    const heard = line.heard('w');
    expect(heard.filter((one) => one.startsWith('AK: I got "echo". That is not one'))).toHaveLength(5);
    expect(heard.filter((one) => one.includes('I do not answer it again'))).toHaveLength(1);
    expect(
      line.heard('c').filter((one) => /AK: w: the same text keeps coming.*\nAK: it says: "echo"/.test(one)),
    ).toHaveLength(1);
  });

  it('a machine that sends back what we said is answered no more', () => {
    const line = asked();
    let last = 'hello';
    for (let n = 0; n < 12 && last !== ''; n += 1) {
      line.text('w', last);
      last = line.heard('w').at(-1) ?? '';
    }
    expect(last).toBe('');
  });

  it('a person who cannot find the words is answered each time, and heard in danger after twenty misses', () => {
    const line = asked();
    for (let n = 0; n < 20; n += 1) {
      line.text('w', `what now ${n}`);
      expect(line.heard('w').join()).toContain(`AK: I got "what now ${n}". That is not one`);
    }
    line.text('w', 's-o-s');
    expect(line.heard('w').join()).toContain('FAINT: lay the patient');
  });

  it('an old button changes nothing and the open question is asked again', () => {
    const line = asked();
    line.tap('w', 'e1:f1/1', '0');
    const heard = line.heard('w').join('\n');
    expect(heard).toContain('That button belongs to an earlier question');
    expect(heard).toContain('AK: breathing. 1 noisy');
  });
});

describe('somebody who has not practised', () => {
  it('gets the practice question before a patient', () => {
    const line = new SmallLine(person('w', 'worker', { practised: false }));
    line.text('w', 'NEW');
    expect(line.heard('w').join('\n')).toContain('PRACTICE:');
    line.text('w', '23');
    expect(line.roster.find((one) => one.id === 'w')?.practised).toBe(true);
    line.text('w', 'NEW');
    expect(line.heard('w').join('\n')).toContain('NEW PATIENT');
  });

  it('is helped in an alarm all the same', () => {
    const line = new SmallLine(person('w', 'worker', { practised: false }), person('d', 'doctor'));
    line.text('w', 'help sos!!');
    expect(line.heard('w')[0]).toContain('FAINT: lay the patient');
  });
});

describe('a question in free words', () => {
  function writing(): SmallLine {
    const line = asked();
    line.text('w', 'DOCTOR');
    line.heard('w');
    return line;
  }

  it.each([
    'New lump on the left, what now',
    'No fixative left',
    'Lost the slide, again?',
    'Bad smell from the jar',
    'Help me decide',
    'More blood than usual',
    'Take another pass?',
  ])('%j is the question, not a command', (words) => {
    const line = writing();
    line.text('w', words);
    expect([...line.questions.values()].map((one) => one.words)).toEqual([words]);
  });

  it.each([
    ['LIST', 'Nothing is open'],
    ['?', 'write your question to the doctor'],
    ['NEW BM 1990 M', 'BM'],
    ['CASE 48291354', 'I do not know this code'],
  ])('%s is the command that it is elsewhere', (text, answer) => {
    const line = writing();
    line.text('w', text);
    expect(line.questions.size).toBe(0);
    expect(line.heard('w').join('\n')).toContain(answer);
  });

  it('is asked for once, however often DOCTOR comes', () => {
    const line = writing();
    line.text('w', 'DOCTOR');
    line.text('w', 'DOCTOR may she eat');
    expect([...line.questions.values()].map((one) => one.words)).toEqual(['may she eat']);
    expect(line.heard('w').at(-1)).toContain('AK: breathing. 1 noisy');
  });
});
