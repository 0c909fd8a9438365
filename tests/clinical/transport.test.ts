import { describe, expect, it } from 'vitest';
import { type InfectionRisk, type ParcelContent, suggestMarking } from '../../src/clinical/transport.ts';

const CONTENTS: ParcelContent[] = ['dry-coated', 'dried-unfixed', 'in-alcohol'];
const INFECTIONS: InfectionRisk[] = ['none-known', 'known-or-suspected', 'unknown'];

describe('marking of the parcel', () => {
  it.each([
    ['none-known', 'exempt-human-specimen'],
    ['known-or-suspected', 'un3373-category-b'],
    ['unknown', 'ask-first'],
  ] as const)('infection %s: %s, whatever the slides travel in', (infection, mark) => {
    for (const content of CONTENTS) expect(suggestMarking({ content, infection }).mark).toBe(mark);
  });

  it('local transport rules are always to be checked', () => {
    for (const content of CONTENTS) {
      for (const infection of INFECTIONS) {
        expect(suggestMarking({ content, infection }).steps).toContain('check-local-transport-rules');
      }
    }
  });

  it('only a Category B parcel gets the diamond', () => {
    for (const content of CONTENTS) {
      for (const infection of INFECTIONS) {
        const { mark, steps } = suggestMarking({ content, infection });
        expect(steps.includes('diamond-50-mm-un3373')).toBe(mark === 'un3373-category-b');
      }
    }
  });

  it('alcohol asks for absorbent paper and a look at its volume, dry slides do not', () => {
    const wet = suggestMarking({ content: 'in-alcohol', infection: 'none-known' }).steps;
    expect(wet).toEqual(
      expect.arrayContaining(['absorbent-paper', 'flammable-liquid-check-volume', 'lid-taped-upright']),
    );
    const dry = suggestMarking({ content: 'dry-coated', infection: 'none-known' }).steps;
    expect(dry).not.toContain('flammable-liquid-check-volume');
  });
});
