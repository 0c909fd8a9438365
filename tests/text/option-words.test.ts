import { describe, expect, it } from 'vitest';
import { optionWords } from '../../src/text/option-words.ts';

const wordsIn = (text: string, replies: string): Record<string, string> =>
  Object.fromEntries(optionWords(text, replies.split(' ')));

describe('the words that stand behind a reply', () => {
  it('are those of whoever reads the text, to the end of its sentence', () => {
    const text = 'Q47 AK48: reply 47 and: 1 I phone the clinic 2 hospital now. Or 47 and your words.';
    expect(wordsIn(text, '1 2')).toEqual({ 1: 'I phone the clinic', 2: 'hospital now' });
  });

  it('are found where a choice is named within a sentence', () => {
    const text = 'Q47 AK48: answer with 47 and your words. Or send 47 1: the clinic phones me.';
    expect(wordsIn(text, '1')).toEqual({ 1: 'the clinic phones me' });
  });

  it('may hold numbers, brackets and commas of their own', () => {
    const text = 'AK48: 3 thin needles, two or more (23-27G) 4 only 22G needles 60 none of these, of course';
    expect(wordsIn(text, '3 4 60')).toEqual({
      3: 'thin needles, two or more (23-27G)',
      4: 'only 22G needles',
      60: 'none of these, of course',
    });
  });

  it('end where a further sentence or line begins', () => {
    const text = 'AK48: 1 the MEN illness; 2 another thyroid cancer. Patient: 3 had radiation\n0 none';
    expect(wordsIn(text, '1 2 3 0')).toEqual({
      1: 'the MEN illness',
      2: 'another thyroid cancer',
      3: 'had radiation',
      0: 'none',
    });
  });

  it('are not made up: a reply that the text does not explain has none', () => {
    expect(wordsIn('AK48: on the way? GOING 4718. Well again: WELL 5102', 'GOING WELL 4718')).toEqual({});
    expect(wordsIn('AK48: send the size. Like this: R 22x15x14', '1')).toEqual({});
  });
});
