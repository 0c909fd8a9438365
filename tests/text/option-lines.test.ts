import { describe, expect, it } from 'vitest';
import { optionLines } from '../../src/text/option-lines.ts';

describe('a question with one option a line', () => {
  it('has each option on a line of its own, and what follows the last one', () => {
    const text = 'AK: now one digit for EACH slide, from slide 1 to 4: 6 wet at once 7 late 0 not used. All good: 6666';
    expect(optionLines(text, ['6', '7', '0'])).toBe(
      'AK: now one digit for EACH slide, from slide 1 to 4:\n6 wet at once\n7 late\n0 not used.\nAll good: 6666',
    );
  });

  it.each([
    ['a figure of an option is none', 'AK: 4 only 22G 5 four slides or 6 with 4 x 5 ml', ['4', '5', '6']],
    ['a word within a sentence is none', 'AK: HOW IS THE PATIENT? Send SAME or WORSE.', ['SAME', 'WORSE']],
    ['a question without options stays as it is', 'AK: at what time? Like this: 10:40', []],
  ])('is as long as it was, in the same words: %s', (_which, text, replies) => {
    const lines = optionLines(text, replies);
    expect(lines.replaceAll('\n', ' ')).toBe(text);
    expect(lines.split('\n')).toHaveLength(/^\D+4 only/.test(text) ? 4 : 1);
  });

  it('finds a reply behind another one only, so that a number in the question is none', () => {
    expect(optionLines('AK: of 2 lumps, which? 1 the upper 2 the lower', ['1', '2'])).toBe(
      'AK: of 2 lumps, which?\n1 the upper\n2 the lower',
    );
  });
});
