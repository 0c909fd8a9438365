import { describe, expect, it } from 'vitest';
import { askToken } from '../../src/conversation/ask-token.ts';
import { alarmHearers } from '../../src/conversation/people.ts';
import type { Thread } from '../../src/conversation/state.ts';
import { countSegments } from '../../src/text/segments.ts';
import { person, SmallLine } from '../support/world.ts';

const minuteMs = 60_000;

/** An alarm whose patient has just been asked about. */
function checked(): SmallLine {
  const line = new SmallLine(person('w', 'worker'), person('d', 'doctor'), person('c', 'coordinator'));
  line.text('w', 'NEW');
  line.text('w', 'AK 1982 F');
  line.text('w', 'SOS');
  line.text('w', '2');
  line.now += 5 * minuteMs;
  line.settle();
  return line;
}

const alarmOf = (line: SmallLine): Thread =>
  line.states.get('w')!.threads.find((one) => one.frames.some((frame) => frame.flow === 'sos'))!;
const digitsOf = (line: SmallLine) => {
  const { going, well } = alarmOf(line).frames.at(-1)!.vars as Record<string, string>;
  return { going: going!, well: well! };
};
const over = (line: SmallLine): boolean => [...line.cases.values()][0]!.sos === null;

describe("an alarm's own words", () => {
  it('are buttons on Telegram, each with its token, and count when they are tapped', () => {
    const line = checked();
    const { ask } = alarmOf(line);
    const { going, well } = digitsOf(line);
    expect(ask!.options.map((one) => one.reply)).toEqual(['SAME', 'WORSE', `GOING ${going}`, `WELL ${well}`, 'CANNOT']);
    expect(going).not.toBe(well);
    line.tap('w', askToken(ask!.frameId, ask!.entry), `WELL ${well}`);
    expect(over(line)).toBe(true);
  });

  it('on an old button raise it, or prove what their digits prove; SAME of an earlier check says nothing', () => {
    const line = checked();
    const { frameId, entry } = alarmOf(line).ask!;
    const token = askToken(frameId, entry);
    line.text('w', 'SAME');
    line.now += 15 * minuteMs;
    line.settle();
    line.heard('w');
    line.tap('w', token, 'SAME');
    expect(line.heard('w').join()).toContain('That button belongs to an earlier question');
    line.tap('w', token, 'WORSE');
    expect(line.heard('w').join()).toContain('WORSE: go to Tamboro Hospital NOW');
    line.tap('w', token, `GOING ${digitsOf(line).going}`);
    expect(over(line)).toBe(true);
  });

  it.each(['W', 'w', 'worse', 'she is getting worse', 'AK WORSE', 'Worsening!', 'DOCTOR it is worse'])(
    '%j raises it between two checks, too',
    (words) => {
      const line = checked();
      line.text('w', 'SAME');
      line.heard('w');
      line.text('w', words);
      expect(line.heard('w').join()).toContain('WORSE: go to Tamboro Hospital NOW');
      expect([...line.cases.values()][0]!.sos?.sign).toBe('worse');
    },
  );

  it.each(['not worse', 'she is not worse'])('%j does not', (words) => {
    const line = checked();
    line.text('w', words);
    expect(line.heard('w').join()).not.toContain('WORSE: go to');
  });

  it('WORSE counts however late it comes: a word only ever raises', () => {
    const line = checked();
    line.heard('w');
    line.text('w', 'WORSE', line.now - minuteMs);
    expect(line.heard('w').join()).toContain('WORSE: go to Tamboro Hospital NOW');
  });

  it('S alone is an SOS for it', () => {
    const line = checked();
    line.heard('w');
    line.text('w', 'S');
    expect(line.heard('w').join()).toContain('FAINT: lay the patient');
  });

  it.each(['CANNOT', 'no transport'])('%s, alone, raises it to the next rung and tells who knows', (words) => {
    const line = checked();
    line.settle();
    line.heard('d');
    line.text('w', words);
    line.settle();
    expect(line.heard('d')[0]).toContain('CANNOT bring the patient to a hospital');
    expect(over(line)).toBe(false);
  });

  it.each(['she is not well', 'not yet well', 'isnt well', 'cannot say she is well'])(
    '%j and the right digits end no alarm',
    (words) => {
      const line = checked();
      line.text('w', `${words} ${digitsOf(line).well}`);
      expect(over(line)).toBe(false);
      expect(line.heard('w').join('\n')).toContain('HOW IS THE PATIENT?');
    },
  );

  it.each(['we are not going', 'not on the way', 'never left, still not going'])(
    '%j and the right digits are no way to hospital',
    (words) => {
      const line = checked();
      line.text('w', `${words} ${digitsOf(line).going}`);
      expect(over(line)).toBe(false);
      expect(line.heard('w').join('\n')).toContain('HOW IS THE PATIENT?');
    },
  );

  it.each(['cannot go', 'we can not go', 'no transport, not going', 'no car for going'])(
    '%j is that nobody goes, also with the digits of going',
    (words) => {
      const line = checked();
      line.settle();
      line.heard('d');
      line.text('w', `${words} ${digitsOf(line).going}`);
      line.settle();
      expect(line.heard('d').join('\n')).toContain('CANNOT bring the patient to a hospital');
      expect(over(line)).toBe(false);
    },
  );

  it('are repeated with their words when something else is sent, never as bare digits', () => {
    const line = checked();
    const { going, well } = digitsOf(line);
    for (const text of [going, well, 'GOING', 'WELL', '11', '12', 'WELL 1', 'hm']) {
      line.heard('w');
      line.text('w', text);
      const heard = line.heard('w').join('\n');
      expect(heard, text).toContain(
        `If the patient is on the way to hospital: GOING ${going}. Cannot go: CANNOT. Well again: WELL ${well}`,
      );
      expect(heard, text).not.toContain('Send one of');
    }
    expect(over(line)).toBe(false);
  });

  it('are repeated between two checks too, each with its digits, and count there', () => {
    const line = checked();
    const { going, well } = digitsOf(line);
    line.text('w', 'SAME');
    for (const text of ['WELL', 'well again', 'GOING', 'GOING 1']) {
      line.heard('w');
      line.text('w', text);
      const heard = line.heard('w').join('\n');
      expect(heard, text).toContain(`I cannot read "${text}"`);
      expect(heard, text).toContain(
        `If the patient is on the way to hospital: GOING ${going}. Cannot go: CANNOT. Well again: WELL ${well}`,
      );
    }
    expect(over(line)).toBe(false);
    line.text('w', `WELL ${well}`);
    expect(over(line)).toBe(true);
  });
});

describe('an alarm of before the words', () => {
  /** As it stands in a database of before: older structure, numbers of a check, two random digits, no digits of its own. */
  function older(): SmallLine {
    const line = checked();
    const state = line.states.get('w')!;
    const thread = alarmOf(line);
    const options = [
      { id: 'better', reply: '51' },
      { id: 'same', reply: '11' },
      { id: 'worse', reply: '12' },
      { id: 'handed-over', reply: '37' },
    ];
    const frames = thread.frames.map((frame) => {
      const { going: _going, well: _well, ...vars } = frame.vars;
      return frame.flow === 'sos' ? { ...frame, hash: '0123456789abcdef', vars } : frame;
    });
    const old = { ...thread, frames, ask: { ...thread.ask!, options } };
    line.states.set('w', { ...state, threads: state.threads.map((one) => (one.id === old.id ? old : one)) });
    line.heard('w');
    return line;
  }

  it.each([
    ['51', 'noted, it is over at'],
    ['37', 'noted, handed over at'],
    ['12', 'WORSE: go to Tamboro Hospital NOW'],
    ['11', 'go on as told'],
    ['WORSE', 'WORSE: go to Tamboro Hospital NOW'],
    ['SAME', 'go on as told'],
    ['what', 'HOW IS THE PATIENT? Send SAME or WORSE'],
  ])('is answered by %s as it was shown, and by the words of today', (reply, answer) => {
    const line = older();
    line.text('w', reply);
    expect(line.heard('w').join('\n')).toContain(answer);
  });

  it('shows the words of today when it asks again', () => {
    const line = older();
    line.now += 3 * minuteMs;
    line.settle();
    const { well } = digitsOf(line);
    expect(line.heard('w').join('\n')).toContain(`Well again: WELL ${well}`);
    line.text('w', `WELL ${well}`);
    expect(over(line)).toBe(true);
  });
});

describe('who hears of an alarm', () => {
  const doctor = person('d', 'doctor');
  const second = person('e', 'doctor', { rank: 2 });
  const coordinators = [person('c', 'coordinator'), person('g', 'coordinator')];
  const worker = person('w', 'worker');
  const gone = [
    ['stopped', { state: 'stopped' }],
    ['suspended', { state: 'suspended' }],
    ['invited', { state: 'invited' }],
    ['without an address', { addresses: [] }],
  ] as const;
  const hearers = (line: SmallLine, who: string) => {
    line.text(who, 'SOS');
    const names = /I have texted ([^.]+)\./.exec(line.heard(who).join('\n'))?.[1] ?? 'nobody';
    const posted = [
      ...new Set(line.dues.flatMap((one) => (one.personId && one.personId !== who ? [one.personId] : []))),
    ];
    line.settle();
    return {
      names,
      posted,
      heard: line.roster.filter((one) => one.id !== who && line.heard(one.id).length > 0).map((one) => one.id),
    };
  };

  it('the first doctor of the ladder, and the sender reads the name', () => {
    expect(hearers(new SmallLine(worker, doctor, second, ...coordinators), 'w')).toEqual({
      names: 'd',
      posted: ['d'],
      heard: ['d'],
    });
  });

  it.each(gone)('not a doctor who is %s: the next one', (_why, more) => {
    const line = new SmallLine(worker, person('d', 'doctor', more), second, ...coordinators);
    expect(hearers(line, 'w')).toEqual({ names: 'e', posted: ['e'], heard: ['e'] });
  });

  it.each(gone)('every coordinator where the only doctor is %s, and no coordinator who is', (_why, more) => {
    const away = person('h', 'coordinator', more);
    const line = new SmallLine(worker, person('d', 'doctor', more), ...coordinators, away);
    expect(hearers(line, 'w')).toEqual({ names: 'c and 1 more', posted: ['c', 'g'], heard: ['c', 'g'] });
  });

  it('nobody where nobody can be reached, and the sender reads that', () => {
    const line = new SmallLine(worker, person('d', 'doctor', { state: 'stopped' }));
    line.text('w', 'SOS');
    expect(line.heard('w').join('\n')).toContain('I can reach nobody by text now');
  });

  it('never the sender: a doctor alone is helped by the coordinators', () => {
    const line = new SmallLine(doctor, ...coordinators);
    expect(hearers(line, 'd')).toEqual({ names: 'c and 1 more', posted: ['c', 'g'], heard: ['c', 'g'] });
  });

  it('of a number that is not on the line: the coordinators', () => {
    const world = { roster: [worker, doctor, ...coordinators] } as unknown as Parameters<typeof alarmHearers>[0];
    expect(alarmHearers(world, null, 0)).toMatchObject({ as: 'coordinators', people: coordinators });
    expect(alarmHearers(world, { ...worker, state: 'suspended' }, 0).as).toBe('coordinators');
  });
});

describe('alarms of many unknown numbers', () => {
  it('reach a coordinator as one at once and all the others by number, each screen complete alone', () => {
    const line = new SmallLine(person('c', 'coordinator'));
    const numbers = Array.from({ length: 41 }, (_, at) => `+0005550200${String(at).padStart(2, '0')}`);
    for (const number of numbers) line.text(number, 'SOS');
    line.settle();
    expect(line.heard('c')).toEqual([
      expect.stringContaining(`SOS from ${numbers[0]}, a number that is not on the line`),
    ]);
    line.now += 2 * minuteMs;
    line.settle();
    const heard = line.heard('c');
    expect(heard.length).toBeGreaterThan(2);
    for (const text of heard) {
      expect(countSegments(text).segments).toBe(1);
      expect(text).toMatch(/^SOS from 40 numbers that are not on the line: /);
    }
    expect(heard.join().match(/\+\d{12}/g)).toEqual(numbers.slice(1));
    line.now += 10 * minuteMs;
    line.settle();
    expect(line.heard('c')).toEqual([]);
  });
});
