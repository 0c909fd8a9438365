import { describe, expect, it } from 'vitest';
import { withoutKeyword } from '../../../src/channels/sms/keyword.ts';

describe('a word in front of every text', () => {
  it.each([
    ['NECK 1', '1'],
    ['neck 134', '134'],
    ['Neck: LIST', 'LIST'],
    ['NECK1', '1'],
    ['NECKSOS', 'SOS'],
    ['neck sos she bleeds', 'sos she bleeds'],
    [' NECK\n48291354 Thy2', '48291354 Thy2'],
    ['"NECK" B', 'B'],
    ['NECK', ''],
    ['NECK *', '*'],
    ['1', '1'],
    ['SOS neck', 'SOS neck'],
    ['?', '?'],
  ])('%j is heard as %j', (text, words) => {
    expect(withoutKeyword(text, 'NECK')).toBe(words);
  });
});
