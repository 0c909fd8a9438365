import { describe, expect, it } from 'vitest';
import { loadContent } from '../../src/content/load.ts';
import { alarmIn } from '../../src/conversation/hearing/alarm-in.ts';
import { cryIn } from '../../src/conversation/hearing/cry.ts';
import { saysSos } from '../../src/conversation/hearing/sos-spelling.ts';
import { corpusOf } from './corpus.ts';

const { texts } = loadContent();
const english = texts.alarmWords('en');
const lines = corpusOf('english');

const heardIn = (text: string) => (saysSos(text) ? 'sos' : (cryIn(text, english) ?? '-'));

describe('what people write', () => {
  it('has at least 250 lines, of each kind', () => {
    expect(lines.length).toBeGreaterThanOrEqual(250);
    expect(new Set(lines.map((one) => one.is))).toEqual(new Set(['sos', 'now', 'soon', '-']));
    expect(new Set(lines.map((one) => one.text)).size).toBe(lines.length);
  });

  it.each(lines.map((one) => [one.text, one.is] as const))('%j is %s', (text, is) => {
    expect(heardIn(text)).toBe(is);
    expect(alarmIn(text, texts.alarmWords(null))).toBe(is === 'sos' || is === 'now' ? is : null);
  });
});
