import { describe, expect, it } from 'vitest';
import { runCategory } from '../../src/cli/category.ts';

function run(...args: string[]): { exit: number; stdout: string; stderr: string } {
  let stdout = '';
  let stderr = '';
  const exit = runCategory(args, {
    stdout: { write: (text) => (stdout += text) },
    stderr: { write: (text) => (stderr += text) },
  });
  return { exit, stdout, stderr };
}

describe('category command', () => {
  it('prints one JSON line for a category', () => {
    const { exit, stdout, stderr } = run('Thy4', '--json');
    expect([exit, stderr]).toEqual([0, '']);
    expect(stdout.trimEnd()).not.toContain('\n');
    expect(JSON.parse(stdout)).toMatchObject({
      said: 'Thy4',
      system: 'thy',
      code: 'Thy4',
      canonical: 'Thy4',
      meaning: 'suspicious of malignancy, not certain',
      crosswalk: { thy: ['Thy4'], bethesda: ['V'], tir: ['TIR4'], exact: false },
      risk: {
        histologyOnly: { percent: 79 },
        histologyOnlyDepartment: { percent: 81.8 },
        allCases: null,
        system: null,
      },
      action: { next: 'refer-urgent', deadline: { unit: 'workdays', latest: 2 }, mdt: 'yes', acknowledge: 'today' },
    });
  });

  it('takes a category of two words with or without quotes', () => {
    expect(run('Bethesda', 'IV', '--json')).toEqual(run('Bethesda IV', '--json'));
    expect(JSON.parse(run('--json', 'B4').stdout).canonical).toBe('Thy3f');
  });

  it('says in words what it means, its risk with source, and what to do by when', () => {
    const { exit, stdout } = run('Thy3a');
    expect(exit).toBe(0);
    for (const part of ['Bethesda III', 'TIR3A', '25 % (20-31)', 'Poller', '14.5 %', 'within 14 days']) {
      expect(stdout).toContain(part);
    }
  });

  it('says the basis of each figure: a department that gives Thy5 of operated nodules only does not speak of all', () => {
    const { stdout } = run('Thy5');
    expect(stdout).toContain('cancer among operated nodules of one department: 100 %');
    expect(stdout).not.toContain('cancer among all');
  });

  it.each([
    ['TIR2', '< 3 %'],
    ['TIR3A', '< 10 %'],
    ['TIR3B', '15-30 %'],
    ['TIR5', '95 %'],
  ])('%s: the expected share as it is printed, %s', (code, printed) => {
    expect(run(code).stdout).toContain(`cancer as the system states it: ${printed}`);
  });

  it.each([
    ['Bethesda III', 'repeat needle, or lobectomy'],
    ['Bethesda IV', 'surgical resection'],
    ['Thy5', 'surgical resection (Bethesda 2023, children (PMC10600596, table 3), by the crosswalk to Bethesda VI)'],
  ])('%s: children are managed otherwise', (code, management) => {
    expect(run(code).stdout).toContain(`management in children: ${management}`);
  });

  it('knows the categories of a lymph node, and converts none of them', () => {
    const { exit, stdout } = run('L2', '--json');
    expect(exit).toBe(0);
    expect(JSON.parse(stdout)).toMatchObject({
      system: 'sydney',
      code: 'L2',
      crosswalk: null,
      action: { next: 'follow-up' },
    });
    expect(run('L5').stdout).toContain('no thyroid category');
    expect(run('L4/5').exit).toBe(1);
  });

  it.each(['Thy3', 'TIR3', 'V', '5', 'Thy 4/5'])('%s is asked back with exit 1', (code) => {
    const plain = run(code);
    expect(plain.exit).toBe(1);
    expect(plain.stdout).toContain('?');
    const json = run(code, '--json');
    expect(json.exit).toBe(1);
    expect(JSON.parse(json.stdout).options.length).toBeGreaterThan(1);
  });

  it.each([[['Thy6']], [['Thy3c']], [['nonsense']], [[]], [['--json']], [['Thy4', '--colour']]])(
    '%j ends with exit 2 and a line on stderr',
    (args) => {
      const { exit, stderr } = run(...args);
      expect(exit).toBe(2);
      expect(stderr.endsWith('\n') && stderr.trim() !== '').toBe(true);
    },
  );

  it('explains itself', () => {
    const { exit, stdout } = run('--help');
    expect(exit).toBe(0);
    expect(stdout).toContain('CODE');
  });
});
