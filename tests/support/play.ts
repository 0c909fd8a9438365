import { Readable } from 'node:stream';
import { runPlay } from '../../src/cli/play.ts';

/** What `play -` printed for these lines, and its exit code. */
export async function playLines(
  lines: readonly string[],
  args: readonly string[] = ['--json'],
): Promise<{ code: number; printed: string; json: Record<string, unknown>[] }> {
  let printed = '';
  const out = { write: (text: string) => (printed += text) };
  const code = await runPlay(['-', ...args], {
    stdin: Readable.from(lines.map((line) => `${line}\n`)),
    stdout: out,
    stderr: out,
  });
  const json = args.includes('--json')
    ? printed
        .split('\n')
        .filter((line) => line.startsWith('{'))
        .map((line) => JSON.parse(line) as Record<string, unknown>)
    : [];
  return { code, printed, json };
}

/** Texts that a phone received. */
export function received(json: readonly Record<string, unknown>[], phone: string): string[] {
  return json.filter((one) => one.phone === phone && one.dir === 'out').map((one) => String(one.text));
}
