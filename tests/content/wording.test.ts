import { readFileSync } from 'node:fs';
import { daleChall } from 'dale-chall';
import { describe, expect, it } from 'vitest';
import { withSaidVars } from '../../src/content/check-content.ts';
import { loadContent } from '../../src/content/load.ts';
import { atItsWidest } from '../../src/content/wording/long-values.ts';
import { measureScreens } from '../../src/content/wording/measure.ts';
import { takeApart, wordsOf } from '../../src/content/wording/sentences.ts';
import { leastFunctionWords, wordProblems, wordRows } from '../../src/content/wording/table.ts';
import { registry } from '../../src/conversation/matters.ts';
import { foldWord } from '../../src/text/fold.ts';
import { shipped } from '../support/shipped.ts';
import { packageWith, watchRegistry, watchTexts } from './package-fixture.ts';

const english = shipped.sources.locales.find(({ tag }) => tag === 'en')!;

describe('a screen taken apart', () => {
  it('has its options by their replies, and sentences that end at a colon, a semicolon and an option', () => {
    const apart = takeApart(
      'family: 1 medullary cancer or the MEN illness; 2 another thyroid cancer. Patient: 3 had radiation. 0 none 9 not known',
      ['1', '2', '3', '0', '9'],
    );
    expect(apart.options.map(({ reply }) => reply)).toEqual(['1', '2', '3', '0', '9']);
    expect(apart.sentences).toContain('Patient');
    expect(apart.sentences).toContain('had radiation');
  });

  it('takes no quantity for an option, and a point within a number ends no sentence', () => {
    const { options, sentences } = takeApart('Like this: 2.8. Wait 2 minutes. 1 yes', ['1', '2']);
    expect(options).toEqual([{ reply: '1', words: 'yes' }]);
    expect(sentences).toContain('2.8');
  });

  it('has the options of a numbered question, with the letter of the lump and without', () => {
    for (const number of ['RU2', 'R2', '2']) {
      const said = `When the slides are fixed, send: ${number}1 cells ${number}2 only blood ${number}6 no needle done`;
      const { options } = takeApart(said, [`${number}1`, `${number}2`, `${number}6`]);
      expect(options.map(({ words }) => words)).toEqual(['cells', 'only blood', 'no needle done']);
    }
  });
});

/** What is wrong with the wording of one question of a small package. */
function wordingOf(neck: string): readonly string[] {
  const root = packageWith({
    'locales/en/watch.json': JSON.stringify({ ...JSON.parse(watchTexts), neck }),
  });
  const { sources } = loadContent(root);
  const registry = withSaidVars(watchRegistry);
  return wordProblems(measureScreens(sources.locales[0]!, sources.flows, registry)).map(({ what }) => what);
}

describe('the rules of a screen', () => {
  it('are kept by a short question', () => {
    expect(wordingOf('{tag}: how is the neck? 1 it is well 2 it has changed 9 cannot tell')).toEqual([]);
  });

  it('are broken by a sentence of fifteen words, and not by fourteen', () => {
    const of = (count: number): string => `{tag}: ${'look '.repeat(count).trim()}. 1 well 2 changed 9 cannot tell`;
    expect(wordingOf(of(14))).toEqual([]);
    expect(wordingOf(of(15))).toEqual([expect.stringContaining('has a sentence of 15 words')]);
  });

  it('are broken by an option that begins with a quantity', () => {
    expect(wordingOf('{tag}: needles? 1 two or more 2 22G only 9 cannot tell')).toEqual([
      'has an option that begins with a figure: 22G only',
    ]);
  });

  it('are broken by a screen that only fits with short names', () => {
    expect(wordingOf(`{tag} ${'look at it '.repeat(14).trim()}. 1 well`)).toEqual(
      expect.arrayContaining([expect.stringContaining('takes 2 segments')]),
    );
  });
});

describe('how the English texts speak', () => {
  const screens = measureScreens(english, shipped.sources.flows, withSaidVars(registry));
  const rows = wordRows('en', screens);

  it.each(Object.entries(leastFunctionWords))('%s: function words are at least %i in a hundred', (group, least) => {
    const of = rows.filter((row) => row.group === group);
    expect(of.length).toBeGreaterThan(0);
    for (const row of of.filter(({ voice }) => voice === 'plain'))
      expect(row.functionWords).toBeGreaterThanOrEqual(least);
  });

  it('the everyday words are the published list of familiar words (New Dale-Chall, 1995, npm dale-chall), save phrases', () => {
    const published = daleChall.filter((word) => !word.includes(' '));
    expect(new Set(english.everyday!.familiar)).toEqual(new Set(published.map(foldWord)));
  });

  it('the function words are about 120, each one word', () => {
    const words = english.meta!.functionWords;
    expect(words.length).toBeGreaterThanOrEqual(110);
    expect(words.length).toBeLessThanOrEqual(140);
    expect(words.flatMap(wordsOf)).toEqual([...words]);
  });

  it('names are counted as wide as a programme may have them', () => {
    expect(atItsWidest('Velin Hospital, gate 2')).toHaveLength(36);
    expect(atItsWidest('Oruma clinic')).toHaveLength(24);
    expect(atItsWidest('+000 555 0100')).toHaveLength(16);
  });
});

describe('a language that cannot be measured in a way', () => {
  const inLanguage = (meta: Readonly<Record<string, unknown>>, neck: string): readonly string[] => {
    const root = packageWith({
      'locales/en/meta.json': JSON.stringify({ ...JSON.parse(readFileSync('locales/en/meta.json', 'utf8')), ...meta }),
      'locales/en/sos.json': JSON.stringify({ how: neck }),
    });
    const { sources } = loadContent(root);
    const registry = withSaidVars(watchRegistry);
    return wordProblems(measureScreens(sources.locales[0]!, sources.flows, registry)).map(({ what }) => what);
  };

  it('is held against no verb where it has no list of verbs', () => {
    const noVerb = 'The neck and the two hands.';
    expect(inLanguage({}, noVerb)).toEqual([expect.stringContaining('says without a verb')]);
    expect(inLanguage({ verbs: '' }, noVerb)).toEqual([]);
  });

  it('has no budget of one segment where its letters are not in GSM-7', () => {
    const arabic = `${'اضغط على الرقبة. '.repeat(6)}`.trim();
    expect(arabic.length).toBeGreaterThan(70);
    expect(inLanguage({ verbs: '', alphabet: 'UCS-2' }, arabic)).toEqual([]);
  });
});
