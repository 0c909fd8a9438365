import { describe, expect, it } from 'vitest';
import { termOf, tradeWordsIn, wordAsked } from '../../src/conversation/matters/glossary.ts';
import { screensOf } from '../../src/text/screens.ts';
import { countSegments } from '../../src/text/segments.ts';
import { shipped } from '../support/shipped.ts';
import { problemsOf, watchFlow, watchTexts } from './package-fixture.ts';

const { texts, sources } = shipped;
const terms = texts.terms('en');
const file = (name: string) => sources.locales.find((one) => one.tag === 'en')!.files.find((one) => one.name === name)!;

describe('the glossary', () => {
  it('explains at least 40 trade words, each with spellings of its own', () => {
    expect(terms.length).toBeGreaterThanOrEqual(40);
    expect([...file('glossary').texts.keys()].sort()).toEqual(terms.map((one) => one.id).sort());
  });

  it.each([...file('glossary').texts])('%s is one screen of plain sentences', (_id, text) => {
    expect(screensOf(text)).toHaveLength(1);
    expect(countSegments(text)).toMatchObject({ segments: 1, encoding: 'GSM-7' });
    const long = text.split(/[.:;?!](?:\s|$)/u).filter((one) => one.split(/\s+/).length > 14);
    expect(long).toEqual([]);
  });

  it.each([...file('glossary').texts])('%s neither decides nor comforts', (_id, text) => {
    expect(text).not.toMatch(/\b(worry|probably|usually|mostly|good news|safe|must be|should be|needs an?)\b/iu);
  });

  it('finds each term by each of its spellings, and by no spelling another one', () => {
    const wrong = terms.flatMap(({ id, shown }) =>
      shown.filter((one) => termOf(texts, 'en', one)?.id !== id).map((one) => `${one} of ${id}`),
    );
    expect(wrong).toEqual([]);
    const all = terms.flatMap(({ words }) => [...new Set(words)]);
    expect(all.filter((one, index) => all.indexOf(one) !== index)).toEqual([]);
  });

  it.each([
    ['W echogenicity', 'echogenicity'],
    ['w: ÉCHOGENICITY', 'echogenicity'],
    ['WORDS "taller than wide"', 'taller-than-wide'],
    ['? tiny white dots', 'tiny-white-dots'],
    ['?stridor', 'stridor'],
    ['what is the capsule?', 'capsule'],
    ['What does MEN mean', 'men'],
    ['what are micro-calcifications', 'tiny-white-dots'],
    ['W microcalcifications', 'tiny-white-dots'],
    ['W thy 3f', 'thy3f'],
    ['W nodules', 'nodule'],
    ['W haemophilia', 'bleeding-disorder'],
  ])('%s asks about %s', (text, id) => {
    expect(wordAsked(texts, 'en', text)?.term?.id ?? null).toBe(id);
  });

  it.each(['W', '?', '146', 'noisy', 'capsule', 'the lump is hard', 'SOS stridor'])('%s asks about no word', (text) => {
    expect(wordAsked(texts, 'en', text)).toBeNull();
  });

  it('names the trade words of a question in their order, the longest first where two overlap, and no everyday word', () => {
    expect(tradeWordsIn(texts, 'en', '1 flat (linear) probe 2 thyroid scan 3 slides 4 TSH 5 TSH again')).toEqual([
      'flat linear probe',
      'thyroid scan',
      'TSH',
    ]);
  });
});

describe('check', () => {
  it('refuses an option with a trade word that the glossary lacks, in its label', () => {
    const lines = problemsOf({ 'locales/en/watch.json': watchTexts.replace('"well|fine"', '"crepitus|well"') });
    expect(lines.filter((one) => one.includes('crepitus'))).toEqual([
      expect.stringMatching(
        /flows\/watch\.yaml.* crepitus in an option is neither an everyday word nor in the glossary/,
      ),
    ]);
  });

  it('refuses it behind its digit in the question', () => {
    const lines = problemsOf({ 'locales/en/watch.json': watchTexts.replace('1 well', '1 no crepitus') });
    expect(lines.filter((one) => one.includes('crepitus'))).toEqual([
      expect.stringMatching(/locales\/en\/watch\.json.* crepitus in an option/),
    ]);
  });

  it('takes it once the glossary explains it', () => {
    const glossary = '{ "crepitus": "Crepitus: it crackles.", "options": { "term": { "crepitus": "crepitus" } } }';
    const lines = problemsOf({
      'flows/watch.yaml': watchFlow,
      'locales/en/watch.json': watchTexts.replace('1 well', '1 no crepitus'),
      'locales/en/glossary.json': glossary,
    });
    expect(lines.filter((one) => one.includes('in an option'))).toEqual([]);
  });
});

describe('other words', () => {
  it('are written for questions that there are', () => {
    const names = [...shipped.flows.newest.values()].flatMap((flow) =>
      [...flow.states.values()].flatMap((one) =>
        one.ask ? [`${flow.name}-${one.name}`, one.text.replace('.', '-')] : [],
      ),
    );
    expect([...file('words').texts.keys()].filter((one) => !names.includes(one))).toEqual([]);
  });

  it('are written for each question that a worker meets from the findings to the result', () => {
    const flows = ['new', 'decision', 'ready', 'sampling', 'labelling', 'aftercare', 'action'] as const;
    const lacking = flows.flatMap((name) =>
      [...shipped.flows.newest.get(name)!.states.values()].filter(
        (one) =>
          one.ask && !texts.has(`words.${name}-${one.name}`) && !texts.has(`words.${one.text.replace('.', '-')}`),
      ),
    );
    expect(lacking.map((one) => one.name)).toEqual([]);
  });

  it('hold no digit that could be taken for an answer', () => {
    expect([...file('words').texts].filter(([, text]) => /\d/.test(text))).toEqual([]);
  });
});
