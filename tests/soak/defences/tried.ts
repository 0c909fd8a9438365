import { spawn } from 'node:child_process';
import {
  cpSync,
  existsSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { availableParallelism, tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { proofsOf } from '../../support/proofs.ts';
import type { Mutant } from './defence.ts';

const root = fileURLToPath(new URL('../../../', import.meta.url));
const untouched = new Set(['.git', 'node_modules', 'data']);

/** What a run of some proofs came to. */
export interface Tried {
  /** Proofs of which at least one test failed, and those of which none did. */
  readonly red: readonly string[];
  readonly green: readonly string[];
  /** Files that did not get as far as a test: a change that does not compile proves nothing. */
  readonly broken: readonly string[];
}

interface Report {
  readonly testResults: readonly {
    readonly name: string;
    readonly message: string;
    readonly assertionResults: readonly { readonly fullName: string; readonly status: string }[];
  }[];
}

/** A copy of the repository to change and to run tests in. */
export class Copy {
  readonly folder = mkdtempSync(join(memory(), 'defences-'));
  private readonly longestMs: number;

  /** A change that makes something run for ever is no proof either: what takes longer is ended. */
  constructor(longestMs = 600_000) {
    this.longestMs = longestMs;
    for (const name of readdirSync(root)) {
      if (!untouched.has(name)) cpSync(join(root, name), join(this.folder, name), { recursive: true });
    }
    symlinkSync(join(root, 'node_modules'), join(this.folder, 'node_modules'));
  }

  /** Runs the proofs of a mutant with its change in place; the copy is as before afterwards. */
  async try({ file, is, becomes, red }: Mutant): Promise<Tried> {
    const path = join(this.folder, file);
    const sound = readFileSync(path, 'utf8');
    writeFileSync(
      path,
      sound.replace(is, () => becomes),
    );
    try {
      return await this.run(red);
    } finally {
      writeFileSync(path, sound);
    }
  }

  /** Runs what the proofs name and no other test. */
  async run(proofs: readonly string[]): Promise<Tried> {
    const wanted = proofs.map((name) => ({ name, ...testOf(name) }));
    const report = join(this.folder, '.report.json');
    rmSync(report, { force: true });
    const files = [...new Set(wanted.map(({ path }) => path))];
    const pattern = wanted.map(({ title }) => title).join('|');
    const named = [...files, '-t', pattern, '--reporter=json', `--outputFile=${report}`];
    await vitest(this.folder, named, this.longestMs);
    if (!existsSync(report)) return { red: [], green: [], broken: [`no end within ${this.longestMs / 60_000} min`] };
    const { testResults } = JSON.parse(readFileSync(report, 'utf8')) as Report;
    const isRed = ({ path, title }: TestOf): boolean =>
      testResults.some(
        (one) =>
          one.name.endsWith(`/${path}`) &&
          one.assertionResults.some((test) => test.status === 'failed' && new RegExp(title).test(test.fullName)),
      );
    return {
      red: wanted.filter(isRed).map(({ name }) => name),
      green: wanted.filter((one) => !isRed(one)).map(({ name }) => name),
      broken: testResults.filter((one) => one.assertionResults.length === 0).map(({ message }) => message),
    };
  }

  remove(): void {
    rmSync(this.folder, { recursive: true, force: true });
  }
}

interface TestOf {
  readonly path: string;
  /** A pattern of the whole name, with what stands in it for values. */
  readonly title: string;
}

/** The file that runs a proof, and its name there: a play is a test of all plays, a contract is run by each engine. */
function testOf(name: string): TestOf {
  const proof = proofsOf(name)[0]!;
  const isPlay = proof.title === null;
  const title = isPlay ? proof.path.split('/').at(-1)! : proof.title!;
  const plain = title.replace(/[.*+?^${}()|[\]\\]/g, '\\$&').replace(/\\\$\\\{\w+\\\}|\\\$\w+|%[a-z%]/g, '.*');
  const path = isPlay
    ? 'tests/conversations/plays.test.ts'
    : proof.path.replace(/^tests\/contract\/.*/, 'tests/store/contract-sqlite.test.ts');
  return { path, title: `(^| )${plain}( |$)` };
}

function memory(): string {
  try {
    readdirSync('/dev/shm');
    return '/dev/shm';
  } catch {
    return tmpdir();
  }
}

/** How many runs go beside each other. */
export const sideBySide = Math.min(2, availableParallelism());

/** Ends when the run ends, whatever it came to: the report says it. A run that does not end is ended, with its workers. */
function vitest(folder: string, args: readonly string[], longestMs: number): Promise<void> {
  const command = join(root, 'node_modules', 'vitest', 'vitest.mjs');
  // Each change is made to a push's form of the proofs: the long one would take days for all of them.
  const { SOAK: _, ...environment } = process.env;
  const env = { ...environment, TMPDIR: memory() };
  const child = spawn(process.execPath, [command, 'run', ...args], {
    cwd: folder,
    env,
    stdio: 'ignore',
    detached: true,
  });
  return new Promise((resolve, reject) => {
    const kill = (): unknown => child.pid !== undefined && process.kill(-child.pid, 'SIGKILL');
    const end = setTimeout(kill, longestMs);
    process.once('exit', kill);
    child.on('error', reject);
    child.on('exit', () => {
      clearTimeout(end);
      process.off('exit', kill);
      resolve();
    });
  });
}
