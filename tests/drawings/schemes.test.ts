import { describe, expect, it } from 'vitest';
import { tints } from '../../src/drawings/lanes.ts';

/** Ink and card of the page in its two schemes, and of paper. */
const schemes = [
  ['light', '#1f2d2c', '#fffdf8'],
  ['dark', '#ece6d9', '#212827'],
  ['printed', '#000000', '#ffffff'],
] as const;

type Colour = readonly [number, number, number];
const read = (hex: string): Colour =>
  [1, 3, 5].map((at) => Number.parseInt(hex.slice(at, at + 2), 16)) as unknown as Colour;
const mixed = (ink: Colour, card: Colour, part: number): Colour =>
  ink.map((one, at) => one * part + card[at]! * (1 - part)) as unknown as Colour;

/** Relative luminance and contrast as the accessibility guidelines (WCAG 2) define them. */
function luminance(colour: Colour): number {
  const [r, g, b] = colour.map((one) => {
    const part = one / 255;
    return part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4;
  }) as [number, number, number];
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}
function contrast(one: Colour, other: Colour): number {
  const [light, dark] = [luminance(one), luminance(other)].sort((a, b) => b - a) as [number, number];
  return (light + 0.05) / (dark + 0.05);
}

describe.each(schemes)('in the %s scheme', (_name, ink, card) => {
  it('words on every stretch of the ruler are read, and its frame is seen', () => {
    for (const tint of tints) {
      const ground = mixed(read(ink), read(card), tint);
      expect(contrast(read(ink), ground)).toBeGreaterThan(4.5);
    }
    expect(contrast(read(ink), read(card))).toBeGreaterThan(7);
  });
});
