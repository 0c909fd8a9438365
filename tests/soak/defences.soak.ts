/** Takes away one defence after another, in a copy of this folder, and wants the tests that guard it to turn red. */
import { spawnSync } from 'node:child_process';
import { cpSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { defenceMutants } from './defence-mutants.ts';

const root = fileURLToPath(new URL('../../', import.meta.url));
const copied = ['src', 'tests', 'flows', 'locales', 'deploy', 'package.json', 'tsconfig.json', 'vitest.config.ts'];
const longestMs = 300_000;

describe('a defence that is taken away', () => {
  let copy: string;
  beforeAll(() => {
    copy = mkdtempSync(join(tmpdir(), 'neckline-mutants-'));
    for (const name of copied) cpSync(join(root, name), join(copy, name), { recursive: true });
    symlinkSync(join(root, 'node_modules'), join(copy, 'node_modules'));
  });
  afterAll(() => rmSync(copy, { recursive: true, force: true }));

  /** Runs one test file in the copy. `failed`: tests that turned red; null = it did not come to running any. */
  const run = (test: string): { readonly passed: number; readonly failed: number } | null => {
    const report = join(copy, 'report.json');
    rmSync(report, { force: true });
    const command = ['node_modules/vitest/vitest.mjs', 'run', test, '--reporter=json', `--outputFile=${report}`];
    spawnSync(process.execPath, command, { cwd: copy, stdio: 'ignore', timeout: longestMs });
    try {
      const { numPassedTests, numFailedTests } = JSON.parse(readFileSync(report, 'utf8'));
      return { passed: numPassedTests, failed: numFailedTests };
    } catch {
      return null;
    }
  };

  it.each([...new Set(defenceMutants.map((one) => one.test))])(
    '%s is green with all of them in place',
    (test) => expect(run(test)).toMatchObject({ failed: 0, passed: expect.any(Number) }),
    longestMs,
  );

  it.each(defenceMutants)(
    '$name: $test turns red',
    ({ file, from, to, test }) => {
      const path = join(copy, file);
      const source = readFileSync(path, 'utf8');
      expect(source.split(from)).toHaveLength(2);
      writeFileSync(
        path,
        source.replace(from, () => to),
      );
      try {
        expect(run(test)?.failed).toBeGreaterThan(0);
      } finally {
        writeFileSync(path, source);
      }
    },
    longestMs,
  );
});
