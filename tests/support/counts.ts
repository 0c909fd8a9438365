import type { Reporter, TestModule } from 'vitest/node';

/** Ends a run with one plain line, `5 passed, 0 failed, 0 skipped`, that any script can read. */
export default class Counts implements Reporter {
  onTestRunEnd(modules: readonly TestModule[]): void {
    const seen = { passed: 0, failed: 0, skipped: 0 };
    for (const module of modules) {
      if (module.errors().length > 0) seen.failed += 1;
      // What a group of tests needs before it could not be made: its tests count as skipped.
      for (const suite of module.children.allSuites()) if (suite.errors().length > 0) seen.failed += 1;
      for (const test of module.children.allTests()) {
        const state = test.result().state;
        if (state !== 'pending') seen[state] += 1;
      }
    }
    process.on('exit', () => {
      process.stdout.write(`${seen.passed} passed, ${seen.failed} failed, ${seen.skipped} skipped\n`);
    });
  }
}
