import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { CaseEvent, Json } from '../../../src/case/events.ts';
import type { QuickVocabulary } from '../../../src/conversation/answers/quick-vocabulary.ts';
import { checkScreens } from '../../../src/conversation/matters/findings-check.ts';
import { quickFields } from '../../../src/conversation/matters/quick-fields.ts';
import { foundHere } from '../../../src/conversation/matters/summary.ts';
import { readQuickText } from '../../../src/conversation/quick-text.ts';
import { decidedCase, momentOf, said } from './moment-of.ts';

const english = JSON.parse(
  readFileSync(new URL('../../../locales/en/quick.json', import.meta.url), 'utf8'),
) as QuickVocabulary;

/** What is read back of this quick text. */
function readBack(text: string): string {
  const opened: CaseEvent = decidedCase()[0]!;
  const fields = quickFields(readQuickText(`NEW EL 1961 F R 22x15x14 ${text}`, english, 2030).answers);
  return checkScreens(momentOf([opened, ...fields.map(({ field, item, value }) => said(field, value as Json, item))]));
}

/** Phrases of one meaning, with what they mean. */
const phrases = Object.entries(english.words).map(([phrase, meanings]) => ({
  phrase,
  means: JSON.stringify(meanings),
}));
const numbers = ['inr 2.8', 'platelets 90', 'mhz 5', '5 mhz', 'solid part 12'];

/** Words that one option of the question stands for: each of them is an edge that is not even. */
const uneven: ReadonlySet<string> = new Set(
  ['lobulated', 'irregular', 'spiculated'].map((value) => JSON.stringify([{ field: 'margin', value }])),
);

/** The probe is asked about where nobody said that there was ultrasound; then pad and frequency are answered with it. */
const beside = (phrase: string): string => (/pad|standoff|mhz/.test(phrase) ? 'us done' : '');

describe('every word that the quick text takes is read back', () => {
  it.each([...phrases.map(({ phrase }) => phrase), ...numbers])('"%s" changes what is read back', (phrase) => {
    expect(readBack(`${beside(phrase)} ${phrase}`)).not.toBe(readBack(beside(phrase)));
  });

  it('no two findings are read back alike', () => {
    const meant = new Map<string, string>();
    for (const { phrase, means } of phrases) {
      const kind = uneven.has(means) ? 'uneven' : means;
      const shown = readBack(`${beside(phrase)} ${phrase}`);
      expect(meant.get(shown) ?? kind, `"${phrase}" is read back like another finding`).toBe(kind);
      meant.set(shown, kind);
    }
  });

  it.each([
    ['solid iso smooth', 'grey as the thyroid, smooth edge, rest not known'],
    ['solid iso smooth wider capsule intact', 'grey as the thyroid, wider than tall, smooth edge, within the capsule'],
    ['solid hypo ill defined', 'dark, blurred edge, rest not known'],
  ])('"%s" is said in words, and the rest is not known only where some is left', (text, words) => {
    expect(readBack(text)).toMatch(new RegExp(`${words}[.,]`));
    if (!words.includes('rest')) expect(readBack(text)).not.toContain('rest not known');
    expect(readBack(text)).not.toMatch(/NOT KNOWN:[^.]*looks/);
  });
});

describe('a neck that was kept as examined without what was felt, from before contradictions were asked', () => {
  const examined = (...felt: readonly CaseEvent[]) =>
    momentOf([...decidedCase(), said('nodules', ['n1']), said('examined', true), ...felt]);

  it('is read back as not asked, never as not felt', () => {
    expect(checkScreens(examined())).toMatch(/NOT ASKED:[^.]*C6/);
    expect(checkScreens(examined())).not.toContain('not felt');
    expect(checkScreens(examined(said('felt', [])))).toContain('C6 not felt');
  });

  it('is no finding for the doctor', () => {
    expect(foundHere(examined())).not.toContain('felt');
    expect(foundHere(examined(said('felt', [])))).toContain('no lump felt');
  });
});
