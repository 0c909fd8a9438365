/** After erasing: waits until the bytes are out of the database's files, and says what was seen. */
import type { LineStore } from '../store/store.ts';

/** Between them others write; with the waiting of each try about six seconds. */
const tries = 10;
const pauseMs = 350;

const said = {
  gone: '',
  held:
    "the key's bytes may still stand in the database or in its log: somebody reads it (a backup, an audit, a copy). " +
    'Run this again when that has ended\n',
  server:
    "the key stands in no table; the server's own log, its copies and the blocks that it freed hold its bytes until it " +
    'writes over them\n',
} as const;

/** Exit code and a line for the operator; empty when nothing is left. */
export async function scrubbed(
  store: Pick<LineStore, 'scrub'>,
): Promise<{ readonly exit: 0 | 1; readonly line: string }> {
  let found = await store.scrub();
  for (let done = 1; found === 'held' && done < tries; done += 1) {
    await new Promise((resolve) => setTimeout(resolve, pauseMs));
    found = await store.scrub();
  }
  return { exit: found === 'held' ? 1 : 0, line: said[found] };
}
