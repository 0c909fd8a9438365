import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { packageRoot } from '../../src/content/load.ts';
import { problemLine } from '../../src/content/problem.ts';
import { loadTraining } from '../../src/content/scenarios.ts';
import { shipped } from '../support/shipped.ts';

const root = mkdtempSync(join(tmpdir(), 'neckline-scenarios-'));
for (const folder of [join('flows', 'scenarios'), join('locales', 'en')]) {
  cpSync(join(packageRoot, folder), join(root, folder), { recursive: true });
}
afterAll(() => rmSync(root, { recursive: true, force: true }));

/** What is found wrong when a piece of a file is another one, each with its line. */
function faults(name: string, piece: string, by: string): readonly string[] {
  const file = join(root, 'flows', 'scenarios', `${name}.yaml`);
  const good = readFileSync(file, 'utf8');
  if (!good.includes(piece)) throw new Error(`${name} has no ${piece}`);
  writeFileSync(file, good.replace(piece, by));
  try {
    return loadTraining(shipped, root).problems.map(problemLine);
  } finally {
    writeFileSync(file, good);
  }
}

/** Line of the first place of a piece, from 1. */
const lineOf = (name: string, piece: string): number =>
  readFileSync(join(root, 'flows', 'scenarios', `${name}.yaml`), 'utf8')
    .split(piece)[0]!
    .split('\n').length;

describe('the files of the scenarios', () => {
  it('are sound as they are shipped', () => {
    expect(loadTraining(shipped).problems.map(problemLine)).toEqual([]);
  });

  it.each([
    [
      'a step that nothing asks',
      'blood',
      'sampling.report: [blood]',
      'sampling.repart: [blood]',
      'no text is called sampling.repart',
    ],
    ['an option that the question lacks', 'blood', '[blood]', '[bloody]', 'sampling.report has no option bloody'],
    ['a place that nothing fills', 'straight', '3 {day:4}', '3 {days:4}', 'nothing fills {days:4}'],
    ['a course that is not there', 'alone', 'course: looks', 'course: look', 'there is no course look'],
    ['a key that nobody knows', 'thy5', 'order: 8', 'oder: 8', 'unknown key oder'],
    [
      'another answer for no step',
      'alone',
      '  ready.supplies: 135',
      '  ready.supply: 135',
      'the way has no step ready.supply',
    ],
  ])('%s is named with its file and line', (_what, name, piece, by, says) => {
    const found = faults(name, piece, by).filter((one) => one.includes(says));
    expect(found).toHaveLength(1);
    expect(found[0]).toMatch(new RegExp(`^flows/scenarios/${name}\\.yaml:${lineOf(name, piece)}  `));
  });

  it('words of a step that does not come, and of a scenario that has none, are named in their own file', () => {
    const file = join(root, 'locales', 'en', 'scenarios.json');
    const good = readFileSync(file, 'utf8');
    const found = (by: (text: string) => string) => {
      writeFileSync(file, by(good));
      const lines = loadTraining(shipped, root).problems.map(problemLine);
      writeFileSync(file, good);
      return lines;
    };
    expect(found((text) => text.replace(/"sos.how": "(?![\s\S]*"sos.how": ")/u, '"sos.hows": "'))).toEqual(
      expect.arrayContaining([
        expect.stringMatching(/^locales\/en\/scenarios\.json:\d+ .*the way has no step sos\.hows/),
      ]),
    );
    expect(found((text) => text.replace('"thy5": {', '"thy6": {')).join()).toContain('has no words');
  });

  it('another language says all that English says, with the same values', () => {
    const english = readFileSync(join(root, 'locales', 'en', 'scenarios.json'), 'utf8');
    const own = join(root, 'locales', 'sw');
    mkdirSync(own);
    const found = (text: string) => {
      writeFileSync(join(own, 'scenarios.json'), text);
      return loadTraining(shipped, root).problems.map(problemLine);
    };
    expect(found(english)).toEqual([]);
    expect(found(english.replace('{initials}, a woman', '{initial}, mwanamke'))).toEqual([
      expect.stringContaining(
        'locales/sw/scenarios.json:15  common.woman  has the values born, initial, English has born, initials',
      ),
    ]);
    expect(found(english.replace('"title": "', '"titel": "'))[0]).toMatch(/^locales\/sw\/scenarios\.json:\d+ /);
    rmSync(own, { recursive: true });
  });

  it('what they share is held against the flows too', () => {
    const found = faults('common', 'new.family-and-pet: [none]', 'new.family-and-pets: [none]');
    expect(found).toEqual([expect.stringMatching(/^flows\/scenarios\/common\.yaml:\d+ .*new\.family-and-pets/)]);
  });
});
