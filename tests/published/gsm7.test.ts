import { createRequire } from 'node:module';
import { SegmentedMessage } from 'sms-segments-calculator';
import { describe, expect, it } from 'vitest';
import { septetsOf } from '../../src/text/gsm7.ts';

interface SplitSms {
  split(text: string): { characterSet: 'GSM' | 'Unicode'; bytes: number };
}
const splitSms = createRequire(import.meta.url)('split-sms') as SplitSms;

const everyUnit = Array.from({ length: 0x10000 }, (_, code) => String.fromCharCode(code)).filter(
  (unit) => !/\p{Cs}/u.test(unit),
);

// 3GPP TS 23.038, sections 6.2.1 and 6.2.1.1, by way of two independent tables of it.
describe('the GSM 7 bit default alphabet and its extension table, 3GPP TS 23.038', () => {
  it('agree with the table in sms-segments-calculator for every character of the basic plane', () => {
    const theirs = (unit: string): number | null => {
      const message = new SegmentedMessage(unit);
      return message.encodingName === 'GSM-7' ? message.numberOfCharacters : null;
    };
    expect(everyUnit.filter((unit) => theirs(unit) !== septetsOf(unit))).toEqual([]);
  });

  it('agree with the table in split-sms for every character of the basic plane', () => {
    const theirs = (unit: string): number | null => {
      const parts = splitSms.split(unit);
      return parts.characterSet === 'GSM' ? parts.bytes : null;
    };
    expect(everyUnit.filter((unit) => theirs(unit) !== septetsOf(unit))).toEqual([]);
  });

  it('hold 127 characters and 10 more by escape', () => {
    expect(everyUnit.filter((unit) => septetsOf(unit) === 1)).toHaveLength(127);
    expect(everyUnit.filter((unit) => septetsOf(unit) === 2)).toHaveLength(10);
  });
});
