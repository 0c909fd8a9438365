import { describe, expect, it } from 'vitest';
import { loadContent } from '../../src/content/load.ts';
import { alarmIn } from '../../src/conversation/hearing/alarm-in.ts';
import { cryIn } from '../../src/conversation/hearing/cry.ts';
import { saysSos } from '../../src/conversation/hearing/sos-spelling.ts';
import { corpusOf } from './corpus.ts';

const { texts } = loadContent();

/** The language of each file. What its phones send is heard in that language and in English. */
const languages = {
  english: 'en',
  french: 'fr',
  spanish: 'es',
  portuguese: 'pt',
  swahili: 'sw',
  arabic: 'ar',
} as const;

describe.each(Object.entries(languages))('what people write in %s', (language, tag) => {
  const own = texts.alarmWords(tag);
  const lines = corpusOf(language);

  it('has cries and harmless texts enough, each once', () => {
    const harmless = lines.filter(({ is }) => is === '-').length;
    expect(lines.length - harmless).toBeGreaterThanOrEqual(60);
    expect(harmless).toBeGreaterThanOrEqual(40);
    expect(new Set(lines.map((one) => one.is))).toEqual(new Set(['sos', 'now', 'soon', '-']));
    expect(new Set(lines.map((one) => one.text)).size).toBe(lines.length);
  });

  it.each(lines.map((one) => [one.text, one.is] as const))('%j is %s', (text, is) => {
    expect(saysSos(text) ? 'sos' : (cryIn(text, own) ?? '-')).toBe(is);
    const alarm = is === 'sos' || is === 'now' ? is : null;
    expect(alarmIn(text, own)).toBe(alarm);
    // Of whom nothing is known, every language is heard, others than English without slips: that orders a queue, no more.
    if (tag === 'en') expect(alarmIn(text, texts.alarmWords(null))).toBe(alarm);
  });
});
