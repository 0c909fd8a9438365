import { Readable } from 'node:stream';
import { runPlay } from '../../src/cli/play.ts';
import { shipped } from './shipped.ts';

/** What `play -` printed for these lines, and its exit code. */
export async function playLines(
  lines: readonly string[],
  args: readonly string[] = ['--json'],
): Promise<{ code: number; printed: string; json: Record<string, unknown>[] }> {
  const { code, printed } = await run(['-', ...args], lines);
  const json = args.includes('--json')
    ? printed
        .split('\n')
        .filter((line) => line.startsWith('{'))
        .map((line) => JSON.parse(line) as Record<string, unknown>)
    : [];
  return { code, printed, json };
}

/** What `play FILE` printed, and its exit code. */
export const playFile = (file: string, args: readonly string[] = []): Promise<{ code: number; printed: string }> =>
  run([file, ...args], []);

async function run(args: readonly string[], lines: readonly string[]): Promise<{ code: number; printed: string }> {
  let printed = '';
  const out = { write: (text: string) => (printed += text) };
  const stdin = Readable.from(lines.map((line) => `${line}\n`));
  const code = await runPlay(args, { stdin, stdout: out, stderr: out }, () => shipped);
  return { code, printed };
}

/** Texts that a phone received. */
export function received(json: readonly Record<string, unknown>[], phone: string): string[] {
  return json.filter((one) => one.phone === phone && one.dir === 'out').map((one) => String(one.text));
}
