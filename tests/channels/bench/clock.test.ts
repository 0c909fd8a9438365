import { describe, expect, it } from 'vitest';
import { firstMorning } from '../../../src/channels/bench/clock.ts';

const at = (text: string): number => Date.parse(text);
const zone = 'Africa/Nairobi';

describe('a fresh bench', () => {
  it.each([
    ['at night', '2030-03-05T02:00+03:00', '2030-03-05T09:00+03:00'],
    ['at nine', '2030-03-05T09:00+03:00', '2030-03-05T09:00+03:00'],
    ['in the afternoon', '2030-03-05T15:00+03:00', '2030-03-06T09:00+03:00'],
    ['on a Friday evening', '2030-03-08T19:00+03:00', '2030-03-11T09:00+03:00'],
    ['on a Sunday', '2030-03-10T07:00+03:00', '2030-03-11T09:00+03:00'],
    ['on the last evening of a year', '2030-12-31T23:30+03:00', '2031-01-01T09:00+03:00'],
  ])('that is opened %s begins on the next working morning of its programme', (_when, now, morning) => {
    expect(firstMorning(at(now), zone)).toBe(at(morning));
  });

  it('keeps to the zone of its programme, not to that of the machine', () => {
    expect(firstMorning(at('2030-03-05T06:30Z'), 'America/Lima')).toBe(at('2030-03-05T09:00-05:00'));
  });
});
