import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import { runCards } from '../../src/cli/cards.ts';
import { cardProblems } from '../../src/content/cards.ts';
import { packageRoot } from '../../src/content/load.ts';
import { keywords } from '../cards/shipped-cards.ts';
import { packageWith } from '../content/package-fixture.ts';
import { shipped } from '../support/shipped.ts';

const folders: string[] = [];
afterEach(() => {
  for (const folder of folders.splice(0)) rmSync(folder, { recursive: true, force: true });
});

function folder(): string {
  const made = mkdtempSync(join(tmpdir(), 'cards-'));
  folders.push(made);
  return made;
}

function cards(args: readonly string[], root?: string) {
  const said = { out: '', err: '' };
  const stdout = { write: (text: string) => (said.out += text) };
  const stderr = { write: (text: string) => (said.err += text) };
  const code = runCards(args, { stdout, stderr }, root);
  return { code, ...said };
}

describe('cards', () => {
  it('prints one file of eleven pages', () => {
    const { code, out, err } = cards([]);
    expect([code, err]).toEqual([0, '']);
    expect(out).toMatch(/^<!doctype html>\n<html lang="en">/);
    expect(out.match(/<section /gu)).toHaveLength(11);
  });

  it('writes the same into a file, and nothing else', () => {
    const file = join(folder(), 'wall.html');
    expect(cards(['--out', file])).toEqual({ code: 0, out: '', err: '' });
    expect(readFileSync(file, 'utf8')).toBe(cards([]).out);
  });

  it('a brief card has fewer words', () => {
    const { code, out } = cards(['--voice', 'brief']);
    expect(code).toBe(0);
    expect(out.length).toBeLessThan(cards([]).out.length);
  });

  it('prints what is known of a site', () => {
    expect(cards(['--site', 'oruma']).out).toContain('>ORUMA CLINIC</text>');
    expect(cards([]).out).not.toContain('ORUMA CLINIC');
  });

  it.each([
    [['--voice', 'loud'], 'there is no voice loud; plain or brief\n'],
    [['--locale', 'ex'], 'there is no language ex; did you mean en?\n'],
    [['--site', 'orumo'], 'there is no site orumo; did you mean oruma?\n'],
    [['all'], 'cards takes no all; see --help\n'],
    [['--pages'], 'cards takes no --pages; see --help\n'],
  ])('%j is wrong use', (args, err) => {
    expect(cards(args)).toEqual({ code: 2, out: '', err });
  });

  it('says where it cannot write', () => {
    const file = join(folder(), 'nowhere', 'wall.html');
    expect(cards(['--out', file])).toEqual({ code: 1, out: '', err: `cannot write ${file}: ENOENT\n` });
  });

  it('a package without cards says so', () => {
    const { code, err } = cards([], packageWith());
    expect(code).toBe(1);
    expect(err).toBe('locales/en/cards.json:1  -  the file is missing  add it\n');
  });
});

describe('check, of the cards', () => {
  const sound = JSON.parse(readFileSync(join(packageRoot, 'locales/en/cards.json'), 'utf8')) as Record<string, string>;

  const { flows, locales } = shipped.sources;
  const english = { ...shipped, sources: { flows, locales: locales.filter(({ tag }) => tag === 'en') } };
  function problems(texts: Readonly<Record<string, string | undefined>>): readonly string[] {
    const root = folder();
    mkdirSync(join(root, 'locales/en'), { recursive: true });
    writeFileSync(join(root, 'locales/en/cards.json'), JSON.stringify({ ...sound, ...texts }, null, 2));
    return [...new Set(cardProblems(english, root, keywords).map(({ path, what }) => `${path}: ${what}`))];
  }

  it('finds nothing wrong with those of the package', () => {
    expect(problems({})).toEqual([]);
  });

  it('misses a text, also that of a new word of the line', () => {
    expect(problems({ drop: undefined })).toEqual(['drop: the text is missing']);
    const more = cardProblems(english, packageRoot, [...keywords, 'TIDE']).map(({ path, what }) => `${path}: ${what}`);
    expect([...new Set(more)]).toEqual(['word-tide: the text is missing']);
  });

  it('refuses a value that is no clinical number', () => {
    expect(problems({ drop: 'Blow out {dropMl} ml.' })).toEqual(['drop: there is no value dropMl']);
  });

  it('refuses more words than fit the page', () => {
    expect(problems({ drop: 'Touch the slide with the tip. '.repeat(40) })).toEqual([
      '-: card 3 (plain) does not fit a page',
    ]);
  });

  const french = JSON.parse(readFileSync(join(packageRoot, 'locales/fr/cards.json'), 'utf8')) as Record<string, string>;
  const both = { ...shipped, sources: { flows, locales: locales.filter(({ tag }) => ['en', 'fr'].includes(tag)) } };
  const problemsInFrench = (key: string, is: string, becomes: string): readonly string[] => {
    expect(french[key]).toContain(is);
    const root = folder();
    for (const [tag, texts] of Object.entries({
      en: sound,
      fr: { ...french, [key]: french[key]!.replace(is, becomes) },
    })) {
      mkdirSync(join(root, `locales/${tag}`), { recursive: true });
      writeFileSync(join(root, `locales/${tag}/cards.json`), JSON.stringify(texts, null, 2));
    }
    const found = cardProblems(both, root, keywords).map((one) => `${one.file}:${one.line} ${one.path}: ${one.what}`);
    return [...new Set(found)];
  };

  it.each([
    [
      'a value that is gone',
      'spray',
      '{sprayCm}',
      '20',
      'has the values spraySeconds, English has sprayCm, spraySeconds',
    ],
    ['another number', 'jar-open', '95%', '70%', 'has the numbers 70, English has 95'],
    ['a sentence left out', 'bleeding', ' Marquez le bord au stylo.', '', 'has 3 sentences, the English text 4'],
    ['words taken out of a sentence', 'bleeding', ' le bord', ' ', 'has two blanks in a row, or ends with a colon'],
    [
      'the hospital left out',
      'faint',
      'hôpital TOUT DE SUITE',
      'TOUT DE SUITE',
      'drops "hospital", which English says',
    ],
    ['a negation left out', 'needle-alone', 'Pas de seringue', 'Une seringue', 'drops "not", which English says'],
    ['a negation left out of a brief text', 'one-line_brief', ' jamais', '', 'drops "not", which English says'],
  ])('finds in a translation %s', (_what, key, is, becomes, what) => {
    const line = Object.keys(french).indexOf(key) + 2;
    expect(problemsInFrench(key, is, becomes)).toEqual([`locales/fr/cards.json:${line} ${key}: ${what}`]);
  });

  it('finds nothing wrong with a translation of the package', () => {
    expect(problemsInFrench('faint', 'À plat', 'À plat')).toEqual([]);
  });

  it('finds a text that no card says', () => {
    expect(problems({ 'old-hint': 'Look here.' })).toEqual(['old-hint: is never used']);
  });
});
