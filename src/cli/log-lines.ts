/** Lines of a file that others write: of any size, cut anywhere. */
import { createReadStream } from 'node:fs';

/** Longest line that is read, bytes; a longer one is none. */
const lineAtMost = 4_096;
const newLine = 0x0a;

/** The lines of a file, one after the other, never the whole of it. Null for a line that is too long. */
export async function* linesOf(file: string): AsyncGenerator<string | null> {
  let rest = Buffer.alloc(0);
  let tooLong = false;
  const line = (last: Buffer): string | null => {
    const whole = Buffer.concat([rest, last]);
    const isLine = !tooLong && whole.length <= lineAtMost;
    rest = Buffer.alloc(0);
    tooLong = false;
    return isLine ? whole.toString('utf8').replace(/\r$/, '') : null;
  };
  for await (const part of createReadStream(file) as AsyncIterable<Buffer>) {
    let from = 0;
    for (let end = part.indexOf(newLine); end >= 0; end = part.indexOf(newLine, from)) {
      yield line(part.subarray(from, end));
      from = end + 1;
    }
    const left = part.subarray(from);
    if (rest.length + left.length > lineAtMost) tooLong = true;
    rest = tooLong ? Buffer.alloc(0) : Buffer.concat([rest, left]);
  }
  // A line without its end is still being written.
}
