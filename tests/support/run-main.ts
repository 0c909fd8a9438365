import { PassThrough } from 'node:stream';
import { main } from '../../src/main.ts';

/** Runs a command as it is typed, in this process; what it wrote, and its exit code. */
export async function runMain(...args: readonly string[]) {
  const written = { out: '', err: '' };
  const into = (stream: 'out' | 'err') =>
    Object.assign(new PassThrough(), {
      write: (text: string) => {
        written[stream] += text;
        return true;
      },
    });
  const io = { stdin: new PassThrough().end(), stdout: into('out'), stderr: into('err') };
  const exit = await main(args, io as never);
  return { exit, ...written };
}
