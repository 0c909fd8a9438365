import { describe, expect, it } from 'vitest';
import { saysSos } from '../../src/conversation/hearing/sos-spelling.ts';

describe('the word SOS', () => {
  it.each([
    'SOS',
    'sos!!!',
    'please SOS bleeding',
    'SOS2',
    's.o.s.',
    'S.O.S',
    '(SOS)',
    'ŚOŚ',
    'AK SOS 48291354',
    'sos\nnow',
  ])('is heard in %j', (text) => {
    expect(saysSos(text)).toBe(true);
  });

  it.each(['sosa', 'isosceles', 'cosos', 'so so', 'S O', '505', ''])('is not heard in %j', (text) => {
    expect(saysSos(text)).toBe(false);
  });
});
