import { describe, expect, it } from 'vitest';
import { RECHECK_MINUTES, SOS_EVENTS } from '../../../src/clinical/adverse-events.ts';
import { person, SmallLine } from '../../support/world.ts';

const minuteMs = 60_000;

/** An alarm with a patient at hand: first aid was sent, the sign is asked. */
function alarmed(): SmallLine {
  const line = new SmallLine(
    person('w', 'worker'),
    person('d', 'doctor'),
    person('ee', 'doctor', { rank: 2, siteId: 'kesu' }),
  );
  line.text('w', 'NEW');
  line.text('w', 'AK 1982 F');
  line.heard('w');
  line.text('w', 'SOS');
  return line;
}

const caseOf = (line: SmallLine) => [...line.cases.values()][0]!;
const alarmOf = (line: SmallLine) => [...line.questions.values()].find((one) => one.about === 'sos')!;

/** The four random digits of the last check asked. */
function secretOf(line: SmallLine): string {
  return /Well again: WELL (\d{4})/.exec(line.heard('w').join('\n'))?.[1] ?? '';
}

describe('an alarm', () => {
  it('is answered by first aid before its question, and asks the doctor in the same step', () => {
    const line = alarmed();
    expect(line.heard('w')).toEqual([
      expect.stringMatching(/^AK: Take the needle out\. FAINT: lay the patient flat, legs up/),
      expect.stringMatching(/^AK: Do not leave the patient alone.*\nAK: I have texted d\. No answer yet/),
      expect.stringMatching(/^AK: what is wrong\? 1 faint/),
      expect.stringMatching(/^AK: or is it one of these\? 4 the voice/),
    ]);
    expect(alarmOf(line)).toMatchObject({ urgency: 'now', askedOf: ['d'], askedBy: 'w', answeredAt: null });
    expect(caseOf(line).sos?.sign).toBe('not-said');
  });

  it.each(SOS_EVENTS.map((sign, index) => [sign, String(index + 1)] as const))(
    '%s has first aid of its own and is looked at again in time',
    (sign, digit) => {
      const line = alarmed();
      line.heard('w');
      line.text('w', digit);
      expect(caseOf(line).sos?.sign).toBe(sign);
      expect(line.heard('w')[0]).toMatch(/^AK: /);
      if (sign === 'needle-stick') return;
      line.now += (RECHECK_MINUTES[sign][0] ?? 0) * minuteMs;
      line.settle();
      expect(line.heard('w').join('\n')).toMatch(
        /AK 1\d:\d\d HOW IS THE PATIENT\? Send SAME or WORSE\. If the patient is on the way/,
      );
    },
  );

  it.each([
    ['hard breathing', '3', 'Go to Tamboro Hospital NOW'],
    ['a stick of the worker', '6', 'who was pricked washes the place NOW, with soap'],
  ])('of %s says so', (_, digit, words) => {
    const line = alarmed();
    line.text('w', digit);
    expect(line.heard('w').join('\n')).toContain(words);
  });

  it('ends only by its own random digits, and settles the question then', () => {
    const line = alarmed();
    line.text('w', '2');
    line.now += 5 * minuteMs;
    line.settle();
    const well = secretOf(line);
    const other = well === '5000' ? '5001' : '5000';
    for (const guess of [
      other,
      well,
      `GOING ${well}`,
      `WELL ${other}`,
      '1',
      '0',
      'better',
      'well again',
      'WELL AGAIN.',
      '11 12',
    ])
      line.text('w', guess);
    expect(caseOf(line).sos).not.toBeNull();
    line.text('w', `Well ${well}.`);
    expect(caseOf(line).sos).toBeNull();
    expect(alarmOf(line).answer).toBe('over');
  });

  it.each([['a word that says nothing new', 'same', false]])('answered late by %s: taken %s', (_, reply, taken) => {
    const line = alarmed();
    line.text('w', '2');
    line.now += 5 * minuteMs;
    line.settle();
    line.heard('w');
    line.text('w', reply, line.now - minuteMs);
    expect(line.heard('w').join().includes('go on as told')).toBe(taken);
  });

  it('is handed over by digits of its own only, and leaves the doctor asked', () => {
    const line = alarmed();
    line.text('w', '2');
    line.now += 5 * minuteMs;
    line.settle();
    const shown = line.heard('w').join('\n');
    const [, over, well] = /hospital: GOING (\d{4})\. Cannot go: CANNOT\. Well again: WELL (\d{4})/.exec(shown)!;
    expect(over).not.toBe(well);
    for (const guess of ['13', '3', 'handed over', 'doctor there', over!, `WELL ${over}`]) line.text('w', guess);
    expect(caseOf(line).sos).not.toBeNull();
    line.text('w', `handed over ${over}`);
    expect(caseOf(line).sos).toBeNull();
    expect(alarmOf(line).answeredAt).toBeNull();
  });

  it('that gets worse goes to the next doctor at once', () => {
    const line = alarmed();
    line.text('w', '1');
    line.now += 2 * minuteMs;
    line.settle();
    expect(line.heard('ee')).toEqual([]);
    line.text('w', 'W');
    line.settle();
    expect(line.heard('ee').join('\n')).toMatch(/^Q\d\d NOW SOS AK F 1982, ORUMA CLINIC\. worse/m);
  });

  it('that gets worse while a doctor has it in hand is asked again at once', () => {
    const line = alarmed();
    line.text('w', '2');
    line.settle();
    line.text('d', '1');
    line.now += 5 * minuteMs;
    line.settle();
    line.text('w', 'W');
    line.settle();
    const open = [...line.questions.values()].filter((one) => one.about === 'sos' && one.answeredAt === null);
    expect(open.map((one) => one.promiseUntil)).toEqual([null]);
    expect(line.heard('ee').at(-2)).toMatch(/^Q\d\d NOW SOS/);
  });

  it('repeated is one alarm with one question, however often', () => {
    const line = alarmed();
    for (let n = 0; n < 3; n += 1) line.text('w', 'SOS SOS');
    expect([...line.questions.values()].filter((one) => one.about === 'sos')).toHaveLength(1);
    expect(
      line.states
        .get('w')
        ?.threads.flatMap((one) => one.frames)
        .filter((one) => one.flow === 'sos'),
    ).toHaveLength(1);
  });

  it('taken back by the doctor freezes nothing, and the new answer goes to whoever raised it', () => {
    const line = alarmed();
    line.settle();
    line.text('d', '2');
    line.text('d', 'WRONG');
    line.settle();
    expect(caseOf(line).frozen).toBeNull();
    const again = [...line.questions.values()].find((one) => one.about === 'sos' && one.answeredAt === null)!;
    expect(again).toMatchObject({ askedBy: 'w', askedOf: ['d'] });
    expect(line.heard('w').join('\n')).toContain('Go on with first aid');
    line.text('d', `${again.tag} 1`);
    line.settle();
    expect(line.heard('w').join('\n')).toContain('AK: d answers: the doctor calls you now');
  });

  it('without a patient names the clinic of the phone, not that of the reader', () => {
    const line = new SmallLine(person('w', 'worker'), person('d', 'doctor', { siteId: 'kesu' }));
    line.text('w', 'SOS');
    line.text('w', '2');
    line.settle();
    expect(line.heard('d').filter((one) => /[,:] ORUMA CLINIC/u.test(one))).toHaveLength(2);
  });
});
