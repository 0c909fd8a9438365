import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { cardProblems } from '../../src/content/cards.ts';
import { checkEverything } from '../../src/content/check-everything.ts';
import { loadContent, packageRoot } from '../../src/content/load.ts';
import { problemLine } from '../../src/content/problem.ts';
import { readProgramme } from '../../src/content/programme.ts';
import { nameProblems } from '../../src/content/programme-names.ts';
import { registry } from '../../src/conversation/matters.ts';
import { shipped } from '../support/shipped.ts';

/* Recipes of DEVELOPERS.md in a copy of the shipped flows and texts, one step of each left out: `check` has to name it. */
const copies: string[] = [];
afterAll(() => {
  for (const folder of copies) rmSync(folder, { recursive: true, force: true });
});

type Change = readonly [file: string, is: string, becomes: string];

/** A copy of the shipped content, in English. */
function copied(): string {
  const root = mkdtempSync(join(tmpdir(), 'neckline-recipes-'));
  copies.push(root);
  for (const folder of ['flows', 'locales/en'])
    cpSync(join(packageRoot, folder), join(root, folder), { recursive: true });
  return root;
}

function changed(root: string, changes: readonly Change[]): void {
  for (const [file, is, becomes] of changes) {
    const text = readFileSync(join(root, file), 'utf8');
    if (!text.includes(is)) throw new Error(`${is} does not stand in ${file}`);
    writeFileSync(join(root, file), text.replace(is, becomes));
  }
}

const problemsOf = (root: string): string => checkEverything(loadContent(root), registry).map(problemLine).join('\n');

/** The English once more, as another language. */
function inAnotherLanguage(): string {
  const root = copied();
  cpSync(join(root, 'locales/en'), join(root, 'locales/sn'), { recursive: true });
  return root;
}

describe('a language', () => {
  it('with every step is sound', () => {
    expect(problemsOf(inAnotherLanguage())).toBe('');
  });

  it('without its files is refused, each by its name', () => {
    const root = inAnotherLanguage();
    // The page of the bench and the cases for practice say in English what a language does not say.
    const names = readdirSync(join(root, 'locales/sn')).filter(
      (name) => !['meta.json', 'bench.json', 'scenarios.json'].includes(name),
    );
    for (const name of names) rmSync(join(root, 'locales/sn', name));
    const cards = cardProblems(loadContent(root), root, []).map(problemLine);
    const problems = [problemsOf(root), ...cards].join('\n');
    expect(names.filter((name) => !problems.includes(`locales/sn/${name}`))).toEqual([]);
  });

  it.each<[string, Change, RegExp]>([
    [
      'without a text',
      ['locales/sn/common.json', '"late-answer":', '"late-answer-":'],
      /locales\/sn\/common\.json.*late-answer {2}the text is missing/,
    ],
    [
      'that writes a clinical number itself',
      ['locales/sn/sampling.json', '{strokeSeconds} s', '2-5 s'],
      /locales\/sn\/sampling\.json.*strokeSeconds/,
    ],
    [
      'without the words of a choice',
      ['locales/sn/aftercare.json', '"changed": "something changed|changed",', ''],
      /changed has no label in sn/,
    ],
  ])('%s is refused', (_step, change, words) => {
    const root = inAnotherLanguage();
    changed(root, [change]);
    expect(problemsOf(root)).toMatch(words);
  });
});

const gloves: Change = [
  'flows/aftercare.yaml',
  `initial: begin
traits: { bedside: needle, whileFrozen: goes-on, carries: aftercare }
anywhere:
  exit.gone: { record: gone-unwatched, target: away }
states:
`,
  `initial: gloves
traits: { bedside: needle, whileFrozen: goes-on, carries: aftercare }
anywhere:
  exit.gone: { record: gone-unwatched, target: away }
states:
  gloves:
    traits: { doubled: asked }
    ask: { field: gloves, kind: choice, options: { clean: "1", torn: "2" } }
    transitions: { clean: begin, torn: begin }
`,
];
const question = '"gloves": "{tag}: gloves? 1 clean 2 torn",';
const words = '"gloves": { "clean": "clean", "torn": "torn" },';
const english = 'locales/en/aftercare.json';

describe('a question', () => {
  it('with every step is sound', () => {
    const root = copied();
    const label: Change = [english, '"options": {', `"options": { ${words}`];
    changed(root, [gloves, [english, '"lid":', `${question} "lid":`], label]);
    expect(problemsOf(root)).toBe('');
  });

  it.each<[string, readonly Change[], RegExp]>([
    ['its text', [gloves, [english, '"options": {', `"options": { ${words}`]], /there is no text aftercare\.gloves/],
    ['the words of its choices', [gloves, [english, '"lid":', `${question} "lid":`]], /clean has no label in en/],
    [
      'a transition for an answer',
      [
        [gloves[0], gloves[1], gloves[2].replace(', torn: begin', '')],
        [english, '"lid":', `${question} "lid":`],
        [english, '"options": {', `"options": { ${words}`],
      ],
      /not treated: torn/,
    ],
    [
      'a digit in its text',
      [
        gloves,
        [english, '"lid":', '"gloves": "{tag}: gloves? 1 clean, or torn", "lid":'],
        [english, '"options": {', `"options": { ${words}`],
      ],
      /can be answered by 2, which the text does not show/,
    ],
  ])('without %s is refused', (_step, changes, said) => {
    const root = copied();
    changed(root, changes);
    expect(problemsOf(root)).toMatch(said);
  });
});

describe('a named piece', () => {
  it.each<[string, Change, RegExp]>([
    [
      'a recorder that nobody wrote',
      ['flows/aftercare.yaml', 'record: aftercare-done', 'record: aftercare-dune'],
      /aftercare-dune/,
    ],
    [
      'a decision that nobody wrote',
      ['flows/aftercare.yaml', 'decide: watched-enough', 'decide: watched-enugh'],
      /watched-enugh/,
    ],
    [
      'an outcome without its way',
      ['flows/sampling.yaml', '      limit: limit\n', ''],
      /the outcome limit of after-attempt is not treated/,
    ],
    ['a value that nobody gives', [english, '{alcoholDoneTime}', '{alcoholDoneTide}'], /alcoholDoneTide/],
  ])('%s is refused', (_step, change, said) => {
    const root = copied();
    changed(root, [change]);
    expect(problemsOf(root)).toMatch(said);
  });
});

describe('a duration, a limit, an escalation time', () => {
  it.each<[string, RegExp, RegExp]>([
    ['a duration', /^ {2}neck-answer: .*\n/m, /neck-answer/],
    ['an urgency', /^ {2}waiting: .*\n/m, /waiting/],
  ])('%s that a flow names and the programme lacks is refused', (_what, line, said) => {
    const root = copied();
    const file = join(root, 'flows/programme.yaml');
    const text = readFileSync(file, 'utf8');
    expect(text).toMatch(line);
    writeFileSync(file, text.replace(line, ''));
    expect(problemsOf(root)).toMatch(said);
  });

  it.each(['forget-ask', 'passes', 'routine'])("an operator's programme without %s is refused", (name) => {
    const text = readFileSync(join(packageRoot, 'flows/programme.yaml'), 'utf8');
    const own = readProgramme('own.yaml', text.replace(new RegExp(`^ {2}${name}: .*\\n`, 'm'), ''));
    const problems = nameProblems('own.yaml', own, shipped.programme).map(problemLine).join('\n');
    expect(problems).toMatch(new RegExp(`${name}.*is missing`));
  });
});
