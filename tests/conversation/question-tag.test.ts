import { describe, expect, it } from 'vitest';
import { tagAlone, tagAndWords, tagAnywhere, tagInFront } from '../../src/conversation/question-tag.ts';

const tags = ['47', '471', '4711', '47110', '294112'];

describe("the number of a doctor's question", () => {
  it.each(tags)('is read in every place that takes one: %s', (tag) => {
    for (const written of [tag, `Q${tag}`, `q ${tag}`, ` ${tag} `]) expect(tagAlone(written)).toBe(tag);
    for (const written of [`${tag} 1`, `Q${tag}: 1`, `q${tag}, 1`]) {
      expect(tagAndWords(written)).toEqual({ tag, rest: '1' });
      expect(tagInFront(written)).toBe(tag);
    }
    expect(tagAndWords(tag)).toEqual({ tag, rest: '' });
    expect(tagAnywhere(`TAKE ${tag}`)).toBe(tag);
  });

  it('is no single digit, and no code', () => {
    for (const text of ['4', '2941121', '48291354', 'Q', '']) {
      expect(tagAlone(text)).toBeNull();
      expect(tagAndWords(text)).toBeNull();
      expect(tagAnywhere(text)).toBeNull();
    }
  });

  it('is read in other digits too', () => {
    expect(tagAlone('٤٧')).toBe('47');
    expect(tagAndWords('٤٧ ١')).toEqual({ tag: '47', rest: '1' });
  });

  it('may have words of several lines behind it', () => {
    expect(tagAndWords('47 wait\nfor me')).toEqual({ tag: '47', rest: 'wait\nfor me' });
  });
});
