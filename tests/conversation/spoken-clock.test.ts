/**
 * Swahili counts the hours of day and night from six: saa 5 asubuhi is 11:00, saa 5 usiku 23:00. The parts of the day: common
 * practice, from memory.
 */
import { describe, expect, it } from 'vitest';
import { lastClock } from '../../src/conversation/answers/clock.ts';
import { type SpokenClock, spokenTime } from '../../src/conversation/answers/spoken-clock.ts';

const clock: SpokenClock = {
  word: 'saa',
  behind: 6,
  parts: { asubuhi: [4, 11], mchana: [10, 16], jioni: [15, 19], usiku: [18, 28], alfajiri: [2, 6] },
  minutes: { 'na nusu': 30, 'na robo': 15, 'kasoro robo': -15, 'na dakika': 0, na: 0 },
};

describe('a time said with its part of the day', () => {
  it.each([
    ['saa 5 asubuhi', '11:00'],
    ['Saa 5 usiku', '23:00'],
    ['saa 12 asubuhi', '06:00'],
    ['saa 12 jioni', '18:00'],
    ['saa 6 mchana', '12:00'],
    ['saa 6 usiku', '00:00'],
    ['saa 9 usiku', '03:00'],
    ['saa 9 alfajiri', '03:00'],
    ['saa 4 na nusu asubuhi', '10:30'],
    ['saa 5 kasoro robo asubuhi', '10:45'],
    ['saa 5:20 asubuhi', '11:20'],
    ['asubuhi saa 5.05', '11:05'],
    ['saa 4 na dakika 40 asubuhi', '10:40'],
  ])('%s is %s', (said, time) => {
    expect(spokenTime(said, clock)).toBe(time);
  });

  it.each([
    'saa 5',
    'saa 5 jioni',
    'saa 13 asubuhi',
    'saa 0 usiku',
    'asubuhi',
    '5 asubuhi',
    'saa 5:20 na nusu asubuhi',
    '11:00',
  ])('%s is none: it may mean two hours, or none', (said) => {
    expect(spokenTime(said, clock)).toBeNull();
  });
});

describe('when the last slide went in', () => {
  const now = Date.parse('2030-03-04T08:20:00Z'); // 11:20 in Nairobi
  const heard = (text: string) => lastClock(text, now, 'Africa/Nairobi', clock);
  const at = (time: string) => Date.parse(`2030-03-04T${time}:00+03:00`);

  it('is heard as the phone shows it and as people say it', () => {
    expect(heard('11:10')).toEqual({ ok: true, value: at('11:10') });
    expect(heard('saa 5:10 asubuhi')).toEqual({ ok: true, value: at('11:10') });
  });

  it('is asked again where figures alone could be six hours ago or now', () => {
    expect(heard('5:21')).toMatchObject({ ok: false });
    expect(heard('5:25')).toMatchObject({ ok: false });
    expect(heard('saa 5')).toMatchObject({ ok: false });
    expect(lastClock('5:25', now, 'Africa/Nairobi')).toMatchObject({ ok: true });
  });
});
