import { describe, expect, it } from 'vitest';
import { packedScreens, partedScreens, screensOf } from '../../src/text/screens.ts';
import { countSegments } from '../../src/text/segments.ts';

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

describe('items that are packed on screens', () => {
  it('are parted behind a comma where one alone is longer than a screen, and no word is lost', () => {
    const look =
      'On ultrasound: part fluid part solid, darker than muscle, taller than wide, grows out of the thyroid, tiny white dots, big white pieces, rest not known.';
    const text = packedScreens(
      '2328 1941 FROM KESU CLINIC: patient F.',
      '2328 1941:',
      ['LEFT, 22 mm.', look],
      'TSH is low.',
    );
    const screens = screensOf(text);
    for (const screen of screens) expect(countSegments(screen).segments).toBe(1);
    expect(screens.join(' ').replaceAll(' 2328 1941:', '')).toContain(look);
  });

  it('keep the words of a person whole, commas and all', () => {
    const note = `"${'he said, she said, '.repeat(9)}"`;
    expect(screensOf(packedScreens('AK:', 'AK:', [note], 'End.'))).toHaveLength(3);
  });
});
