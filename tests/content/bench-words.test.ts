import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import { benchTable, benchWordProblems, benchWordsOf } from '../../src/content/bench-words.ts';
import { packageRoot } from '../../src/content/load.ts';
import { problemLine } from '../../src/content/problem.ts';
import { benchWords } from '../../src/generated/bench-words.ts';
import { sayer } from '../../src/text/say-word.ts';

const roots: string[] = [];
afterEach(() => {
  for (const root of roots.splice(0)) rmSync(root, { recursive: true });
});

/** Faults of a package whose languages say this on the page, where the program says `page-send` and `page-place`. */
function faultsOf(locales: Readonly<Record<string, string>>): readonly string[] {
  const root = mkdtempSync(join(tmpdir(), 'neckline-words-'));
  roots.push(root);
  for (const [tag, text] of Object.entries(locales)) {
    mkdirSync(join(root, 'locales', tag), { recursive: true });
    if (text !== '') writeFileSync(join(root, 'locales', tag, 'bench.json'), text);
  }
  return benchWordProblems(root, { 'page-send': [], 'page-place': ['n', 'of'] }).map(problemLine);
}

const sound = '{\n  "page-send": "send",\n  "page-place": "{n} of {of}"\n}\n';

describe('words of the page', () => {
  it('are those that the program was built with, and have no fault', () => {
    expect(benchTable(benchWordsOf(packageRoot, 'en'))).toEqual(benchWords);
    expect(benchWordProblems(packageRoot, benchWords)).toEqual([]);
  });

  it('are each said by the program, and it says no others', () => {
    const folder = join(packageRoot, 'src');
    const sources = readdirSync(folder, { recursive: true, encoding: 'utf8' })
      .filter((name) => /\.(?:ts|html)$/u.test(name) && !name.startsWith('generated'))
      .map((name) => readFileSync(join(folder, name), 'utf8'));
    const named = sources.flatMap((one) => [...one.matchAll(/['"`{]([a-z][\w-]+)/gu)].map((found) => found[1]!));
    // `hypoechoicPart` is `hypoechoic-part` in a key; values of a look are also yes and no.
    const kebab = (name: string): string => name.replace(/[A-Z]/gu, (letter) => `-${letter.toLowerCase()}`);
    const said = new Set([...named.map(kebab), 'true', 'false', 'unknown']);
    // A key whose end is put in: `page-role-${role}`; a part alone would be every word of it.
    const parts = ['page-', 'strip-', 'picture-', 'scenario-'];
    const begun = [...said].filter((one) => one.endsWith('-') && !parts.includes(one));
    // Drawings put a key together from a look and its value: `picture-${field}-${value}`.
    const isLook = (key: string): boolean =>
      said.has(key) ||
      [...key.matchAll(/-/gu)].some(({ index }) => said.has(key.slice(0, index)) && said.has(key.slice(index + 1)));
    const isSaid = (key: string): boolean =>
      said.has(key) ||
      begun.some((start) => key.startsWith(start)) ||
      (key.startsWith('picture-') && isLook(key.slice('picture-'.length)));
    const unsaid = Object.keys(benchWords).filter((key) => !isSaid(key));
    expect(unsaid).toEqual([]);
  });

  it('are put in with their values, and braces of a value stay', () => {
    const say = sayer<{ 'page-place': readonly ['n', 'of'] }>({ 'page-place': '{n} of {of}' });
    expect(say('page-place', { n: 1, of: '{n}' })).toBe('1 of {n}');
  });

  it('have no fault where a language says less than English', () => {
    expect(faultsOf({ en: sound, sw: '{ "page-send": "tuma" }', fr: '' })).toEqual([]);
  });

  it('are refused with file and line: missing, said by nobody, without a value, with another value, of another shape', () => {
    expect(faultsOf({ en: '{\n  "page-send": "send {name}",\n  "page-place": "{n}",\n  "page-old": "x"\n}' })).toEqual([
      'locales/en/bench.json:2  page-send  there is no value name  use the values of English',
      'locales/en/bench.json:3  page-place  {of} is missing  say it',
      'locales/en/bench.json:4  page-old  nobody says this word  take it out, or run npm run names',
    ]);
    expect(faultsOf({ en: '{ "page-place": "{n} of {of}" }' })).toEqual([
      'locales/en/bench.json:1  page-send  the word is missing  put it back: the page says it',
    ]);
    expect(faultsOf({ en: '' })).toEqual(['locales/en/bench.json:1  -  the file is missing  add it']);
    expect(faultsOf({ en: sound, sw: '{ "send": "tuma" }' })[0]).toContain('locales/sw/bench.json:1  send');
    expect(faultsOf({ en: sound, sw: '{ "page-send": "" }' })[0]).toContain('should not be empty');
    expect(faultsOf({ en: sound, sw: '{ "page-send": "{" }' })[0]).toContain('a brace stands alone');
    expect(faultsOf({ en: sound, sw: '{' })[0]).toContain('is no JSON');
  });
});
