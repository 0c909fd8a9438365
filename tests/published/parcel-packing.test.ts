import { describe, expect, it } from 'vitest';
import type { TextKey } from '../../src/generated/text-keys.ts';
import { shipped } from '../support/shipped.ts';

/*
 * What a parcel of specimens asks for, read in the words that a worker gets: leak-proof packs with something that soaks
 * up, a rigid outer pack, upright (packing instruction P650, from memory; Malaysian MKAKB handbook, P650). The marking is
 * the carrier's and the programme's: no source names fixed slides, so none is proposed (our convention).
 */
const english = (key: string): string => shipped.texts.render('en', key as TextKey, (name) => `{${name}}`);

describe('packing of the parcel', () => {
  it('a jar of alcohol stands in a second pack with something that soaks up, its lid taped', () => {
    expect(english('posting.pack-alcohol')).toMatch(/jar and towel in a bag/);
    for (const key of ['then-stay-in-alcohol', 'then-no-spray']) {
      expect(english(`aftercare.${key}`)).toMatch(/Close the lid, tape it/);
    }
  });

  it.each(['pack-spray', 'pack-air-dried'])('dry slides lie apart in a box of their own: %s', (key) => {
    expect(english(`posting.${key}`)).toMatch(/dry|dried/i);
    expect(english(`posting.${key}`)).toMatch(/slides apart in a slide box/);
  });

  it('every parcel is a box, upright, marked as the programme has it and as local rules want', () => {
    for (const how of ['alcohol', 'tube', 'spray', 'air-dried']) {
      expect(english(`posting.pack-${how}`)).toMatch(/box it upright/);
    }
    expect(english('posting.ready')).toMatch(/\{packing\}\. \{marking\} \(local rules\)/);
  });

  it('no marking is proposed where nobody has judged the risk', () => {
    for (const { files } of shipped.sources.locales) {
      const texts = files.flatMap((file) => [...file.texts.values()]);
      expect(texts.filter((text) => /UN ?\d{4}|exempt/i.test(text))).toEqual([]);
    }
  });
});
