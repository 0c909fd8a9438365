import { describe, expect, it } from 'vitest';
import { cryIn } from '../../src/conversation/hearing/cry.ts';
import { shipped } from '../support/shipped.ts';

const heard = (tag: string, text: string) => cryIn(text, shipped.texts.alarmWords(tag));

describe('English cries beside those of the reader’s own language', () => {
  it('are heard', () => {
    for (const tag of ['fr', 'es', 'pt', 'sw', 'ar']) {
      expect(heard(tag, 'she cannot breathe')).toBe('now');
      expect(heard(tag, 'bleeding a lot')).toBe('soon');
    }
  });

  it('are not heard with a slip, which may be a word of the own language', () => {
    expect(heard('en', 'bleding a lot')).toBe('soon');
    expect(heard('es', 'bleding a lot')).toBeNull();
  });

  it('are not heard where the own language denies them', () => {
    expect(heard('fr', 'ce n’est pas urgent')).toBeNull();
    expect(heard('fr', 'urgent')).toBe('soon');
  });
});
