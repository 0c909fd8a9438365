import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { loadContent } from '../../src/content/load.ts';
import type { QuestionAbout } from '../../src/conversation/flow.ts';
import { choiceInWords } from '../../src/conversation/own-words.ts';

const { texts } = loadContent();
const file = JSON.parse(readFileSync('locales/en/doctor.json', 'utf8')) as {
  readonly [key: string]: unknown;
  readonly options: Readonly<Record<string, Readonly<Record<string, string>>>>;
};

/** The choices of a question, all that its file words. */
function question(about: string) {
  const options = Object.keys(file.options[about] ?? {}).map((id) => ({ id, reply: '1', care: true }));
  return { about: about as QuestionAbout, options };
}

/** `[about, words]` for each choice that a question shows: behind `reply {q} and:`, or alone behind its tag and digit. */
function shown(): readonly (readonly [string, string])[] {
  return Object.entries(file).flatMap(([about, text]) => {
    if (file.options[about] === undefined) return [];
    const whole = Array.isArray(text) ? text.join(' ') : String(text);
    const list = /eply \{q\} and: (.*?)(?:\.(?: Or| Patient|$)|$)/.exec(whole)?.[1] ?? '';
    const listed = list === '' ? [] : list.split(/ ?\d (?=[a-zI{])/).filter((one) => one !== '');
    const alone = [...whole.matchAll(/\{q\} \d(?: means)?: ([^.]+)\./g)].map((one) => one[1]!);
    return [...listed, ...alone].filter((one) => !one.includes('{')).map((words) => [about, words.trim()] as const);
  });
}

function read(about: string, said: string): string | null {
  return choiceInWords(texts, 'en', question(about), said)?.id ?? null;
}

describe("a doctor's own words for a choice", () => {
  it.each(shown())('%s: "%s" as the question words it is that choice', (about, words) => {
    expect(read(about, words)).not.toBeNull();
  });

  it.each([
    ['decision', 'refer', 'refer'],
    ['decision', 'Refer to surgery', 'refer'],
    ['decision', 'please refer her to Tamboro today', 'refer'],
    ['decision', 'sample', 'sample'],
    ['decision', 'OK, needle please', 'sample'],
    ['decision', 'no needle, follow up in 6 months', 'follow-up'],
    ['decision', 'I will phone the clinic', 'call-me'],
    ['thy5', 'refer', 'refer'],
    ['wrong', 'release', 'release'],
  ])('%s: "%s" is %s', (about, said, id) => {
    expect(read(about, said)).toBe(id);
  });

  it.each([
    ['decision', 'yes go ahead'],
    ['decision', 'needle?'],
    ['decision', 'needle if the INR is under 2'],
    ['decision', 'needle into the left one'],
    ['decision', 'no needle'],
    ['decision', 'do not refer'],
    ['decision', 'refer to surgery only after TSH'],
    ['decision', 'refer to hospital for a needle'],
    ['decision', 'refer or follow up'],
    ['decision', 'close to the carotid'],
    ['decision', 'follow up is useless'],
    ['decision', 'call an ambulance'],
    ['sos', 'hospital is too far'],
    ['asked', 'call me to hospital today'],
  ])('%s: "%s" is no choice', (about, said) => {
    expect(read(about, said)).toBeNull();
  });
});
