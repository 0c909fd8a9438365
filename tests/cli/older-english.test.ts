import { describe, expect, it } from 'vitest';
import { olderThanEnglish, recordedEnglish } from '../../src/cli/older-english.ts';

const files = (texts: Readonly<Record<string, unknown>>) =>
  new Map(Object.entries(texts).map(([name, one]) => [name, JSON.stringify(one)]));
const english = {
  watch: { press: 'Press until {time}.', two: ['First.', 'Second.'], options: { neck: { well: 'well|fine' } } },
  cards: { title: 'In the neck' },
  keywords: { NEW: 'new' },
};
const own = {
  watch: { press: 'Bonyeza hadi {time}.', two: ['Kwanza.', 'Pili.'], options: { neck: { well: 'sawa' } } },
  cards: { title: 'Shingoni' },
  keywords: { NEW: 'mpya' },
};
const made = recordedEnglish(files(english), files(own), null);

describe('texts made from English', () => {
  it('are of today when they were written down, words that are only heard apart', () => {
    expect(olderThanEnglish(files(english), files(own), made)).toEqual([]);
    expect(Object.keys(JSON.parse(made))).toEqual([
      ...['watch.press', 'watch.two', 'watch.options.neck.well', 'cards.title'],
    ]);
  });

  it('are older when the English changed behind them, be it one screen or one word of an option', () => {
    const changed = {
      ...english,
      watch: { press: 'Press hard until {time}.', two: ['First.', 'Third.'], options: { neck: { well: 'well' } } },
    };
    const older = ['watch.press', 'watch.two', 'watch.options.neck.well'];
    expect(olderThanEnglish(files(changed), files(own), made)).toEqual(older);
    const read = recordedEnglish(files(changed), files(own), made, new Set(['watch.two']));
    expect(olderThanEnglish(files(changed), files(own), read)).toEqual(['watch.press', 'watch.options.neck.well']);
    expect(
      olderThanEnglish(files(changed), files(own), recordedEnglish(files(changed), files(own), made, 'all')),
    ).toEqual([]);
  });

  it('are to be compared again when they changed themselves', () => {
    const changed = { ...own, watch: { ...own.watch, press: 'Bonyeza {time}.' } };
    expect(olderThanEnglish(files(english), files(changed), made)).toEqual(['watch.press']);
  });

  it('are older where nobody wrote down what they were made from', () => {
    expect(olderThanEnglish(files(english), files(own), null)).toHaveLength(4);
    expect(olderThanEnglish(files(english), files(own), 'no JSON')).toHaveLength(4);
  });

  it('leave the list when they are gone', () => {
    const { watch, keywords } = own;
    expect(Object.keys(JSON.parse(recordedEnglish(files(english), files({ watch, keywords }), made)))).toHaveLength(3);
  });
});
