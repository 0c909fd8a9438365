import { describe, expect, it } from 'vitest';
import { partedScreens, screensOf } from '../../src/text/screens.ts';

const parted = (words: string): readonly string[] => screensOf(partedScreens('AK:', 'AK:', words));

describe('words of any length on screens of one segment', () => {
  it('stay on one screen where they fit', () => {
    expect(parted('NO NEEDLE. Why: all fluid.')).toEqual(['AK: NO NEEDLE. Why: all fluid.']);
  });

  it('are parted behind a comma or a full stop, lose nothing, and each screen bears the tag', () => {
    const reasons = Array.from({ length: 12 }, (_unused, index) => `reason number ${index + 1}`);
    const words = `REFER FIRST. Why: ${reasons.join(', ')}.`;
    const screens = parted(words);
    expect(screens.length).toBeGreaterThan(1);
    for (const screen of screens) {
      expect(screen.length).toBeLessThanOrEqual(160);
      expect(screen).toMatch(/^AK: .*[,.]$/);
    }
    expect(screens.map((one) => one.slice('AK: '.length)).join(' ')).toBe(words);
  });

  it('no words are no screen', () => {
    expect(parted('')).toEqual([]);
  });
});
