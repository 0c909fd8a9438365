import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { runCheck } from '../../src/cli/check.ts';
import { sourceOf } from '../../src/cli/review-sheet.ts';
import { loadContent } from '../../src/content/load.ts';
import { inSwahili, packageWith, spoilt, watchRegistry, watchTexts } from '../content/package-fixture.ts';

let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'neckline-changes-test-'));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const watch = spoilt(watchTexts, 'Press until {time}.', 'Bonyeza hadi {time}.');
const press = { key: 'watch.press-words', was: 'Bonyeza hadi {time}.', english: 'Press until {time}.' };

interface Said {
  readonly key: string;
  readonly was: unknown;
  readonly becomes: unknown;
  readonly english?: unknown;
  readonly note?: string;
}

/** Checks changes by Ada Lumo to a package with one flow, in English and in a second language. */
async function check(locale: string, changes: readonly Said[], ...more: readonly string[]) {
  const root = packageWith(inSwahili(watch));
  const source = sourceOf(loadContent(root), root, locale);
  return { root, ...(await checkIn(root, { locale, source, changes }, ...more)) };
}

async function checkIn(
  root: string,
  file: { readonly locale: string; readonly source: string; readonly changes: readonly Said[] },
  ...more: readonly string[]
) {
  const path = join(folder, 'changes.json');
  const changes = file.changes.map((one) => ({ by: 'Ada Lumo', ...one }));
  writeFileSync(path, JSON.stringify({ form: 1, version: '0.1.0', ...file, changes }));
  const said = { out: '', err: '' };
  const stdout = { write: (text: string) => (said.out += text) };
  const stderr = { write: (text: string) => (said.err += text) };
  const args = ['--changes', path, ...more];
  const exit = await runCheck(args, { stdout, stderr }, { root, registry: watchRegistry });
  return { exit, ...said };
}

const textsOf = (root: string, tag: string) =>
  JSON.parse(readFileSync(join(root, `locales/${tag}/watch.json`), 'utf8')) as Record<string, unknown>;

describe('check --changes', () => {
  it('says what would change, by whom and why, and changes nothing', async () => {
    const { exit, out, err, root } = await check('sw', [
      { ...press, becomes: 'Kandamiza hadi {time}.', note: 'the usual word' },
    ]);
    expect([exit, err]).toEqual([0, '']);
    expect(out.split('\n')).toEqual([
      'watch.press-words  changed by "Ada Lumo": "the usual word"',
      '  was      "Bonyeza hadi {time}."',
      '  becomes  "Kandamiza hadi {time}."',
      '1 change, 0 remarks, 0 problems',
      '',
    ]);
    expect(textsOf(root, 'sw')['press-words']).toBe(press.was);
  });

  it('--write puts sound changes into the files, and the package is then what the sheet said', async () => {
    const { exit, out, root } = await check('sw', [{ ...press, becomes: 'Kandamiza hadi {time}.' }], '--write');
    expect([exit, out]).toEqual([0, expect.stringContaining('written: locales/sw/watch.json\n')]);
    expect(textsOf(root, 'sw')).toEqual({ ...JSON.parse(watch), 'press-words': 'Kandamiza hadi {time}.' });
    expect(textsOf(root, 'en')).toEqual(JSON.parse(watchTexts));
  });

  it.each([
    ['a lost value', 'Kandamiza.', 'has the values none, English has time'],
    ['an unknown value', 'Hadi {time} {tiem}.', 'there is no value tiem'],
    ['another number', 'Hadi {time}, 5.', 'has the numbers 5, English has none'],
    ['more than a message', `{time} ${'neno '.repeat(40)}`, 'takes 2 segments'],
    ['a letter that SMS lacks', 'Hadi {time} ķ.', 'not in the SMS alphabet: ķ'],
    ['a brace alone', 'Hadi {time} {.', 'has a brace without its partner'],
  ])(
    '%s is refused with file and key by the rule for the file itself, and nothing is written',
    async (_what, becomes, what) => {
      const { exit, out, root } = await check('sw', [{ ...press, becomes }], '--write');
      expect(exit).toBe(1);
      expect(out).toMatch(/^locales\/sw\/watch\.json:\d+ {2}press-words {2}/mu);
      expect(out).toContain(what);
      expect(textsOf(root, 'sw')['press-words']).toBe(press.was);
    },
  );

  it('words that two options of a question would share are refused by the rule for the question', async () => {
    const { exit, out } = await check('en', [
      { key: 'watch.options.neck.well', was: 'well|fine', becomes: 'changed|fine' },
    ]);
    expect(exit).toBe(1);
    expect(out).toMatch(
      /^flows\/watch\.yaml:\d+ {2}states\.neck\.ask\.options {2}in en the word changed means well and changed/mu,
    );
  });

  it('what was changed since the sheet was made is stale, and said to be', async () => {
    const root = packageWith(inSwahili(spoilt(watch, 'Bonyeza', 'Shika')));
    const { exit, out } = await checkIn(root, {
      locale: 'sw',
      source: 'older',
      changes: [{ ...press, becomes: 'x {time}' }],
    });
    expect(exit).toBe(1);
    expect(out).toContain('were changed since the sheet was made');
    expect(out).toContain('watch.press-words  was changed since the sheet was made: today "Shika hadi {time}."');
    expect(out).toContain('0 changes, 0 remarks, 1 problem\n');
  });

  it('a language that is not there yet is begun; what it still lacks is not held against what is written', async () => {
    const root = packageWith();
    const changes = [{ key: 'watch.press-words', was: null, english: press.english, becomes: 'Appuyez, {time}.' }];
    const { exit, out } = await checkIn(root, { locale: 'fr', source: 'any', changes }, '--write');
    expect([exit, out]).toEqual([0, expect.stringContaining('written: locales/fr/watch.json')]);
    expect(textsOf(root, 'fr')).toEqual({ 'press-words': 'Appuyez, {time}.' });
    const lost = await checkIn(packageWith(), {
      locale: 'fr',
      source: 'any',
      changes: [{ ...changes[0]!, becomes: 'Appuyez.' }],
    });
    expect([lost.exit, lost.out]).toEqual([1, expect.stringContaining('has the values none, English has time')]);
  });

  it('--json says the same', async () => {
    const { exit, out } = await check('sw', [{ ...press, becomes: 'Kandamiza.' }], '--json');
    expect(exit).toBe(1);
    expect(JSON.parse(out)).toMatchObject({
      ...{ ok: false, locale: 'sw', isToday: true, written: [] },
      changes: [{ key: press.key, was: press.was, becomes: 'Kandamiza.' }],
      problems: [{ file: 'locales/sw/watch.json', path: 'press-words' }],
    });
  });

  it('what is no such file is said', async () => {
    const said = { out: '' };
    const stdout = { write: (text: string) => (said.out += text) };
    const gone = join(folder, 'gone.json');
    expect(existsSync(gone)).toBe(false);
    expect(await runCheck(['--changes', gone], { stdout, stderr: stdout }, { root: packageWith() })).toBe(1);
    expect(said.out).toContain(`${gone}:1  -  cannot be read  name the file that the review sheet saved`);
  });

  it.each([[['--words']], [['--roster', 'people.csv']], [['--fields']]])('takes no %j beside it', async (more) => {
    const { exit, err } = await check('sw', [{ ...press, becomes: 'x {time}' }], ...more);
    expect([exit, err]).toEqual([2, expect.stringContaining('check takes --changes with')]);
  });

  it('--write alone is wrong use', async () => {
    const said = { err: '' };
    const stderr = { write: (text: string) => (said.err += text) };
    expect(await runCheck(['--write'], { stdout: stderr, stderr }, { root: packageWith() })).toBe(2);
  });
});
