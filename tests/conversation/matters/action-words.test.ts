import { describe, expect, it } from 'vitest';
import { actionWords } from '../../../src/conversation/matters/action-words.ts';
import { filed } from '../../support/case-fixture.ts';
import { coded, decidedCase, momentOf } from './moment-of.ts';

/** What the doctor reads of calcitonin beside a result of a clinic whose laboratory tests it, or does not. */
const note = (canonical: string, siteId: string): string =>
  actionWords.calcitoninNote!.of(
    momentOf([...decidedCase(), ...coded(), filed('s1', canonical, canonical)], { siteId }),
  );

describe('calcitonin before any operation', () => {
  it.each(['Thy3f', 'Thy4', 'Thy5'])('is said with %s where the laboratory tests it', (canonical) => {
    expect(note(canonical, 'kesu')).toBe(' Calcitonin before any operation: Lab Mora tests it.');
  });

  it.each(['Thy1', 'Thy2', 'Thy3a'])('is not said with %s', (canonical) => {
    expect(note(canonical, 'kesu')).toBe('');
  });

  it('is not said where the laboratory does not test it', () => {
    expect(note('Thy5', 'oruma')).toBe('');
  });
});
