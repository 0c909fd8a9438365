/** `neckline retention`: what was kept for longer than the programme wants, looked at and taken away by a person. */
import { durationOf } from '../conversation/programme.ts';
import { overdueNow } from '../line/keep.ts';
import { type Io, operate, readWords, withStore } from './operate.ts';
import { scrubbed } from './scrub.ts';

const usage = `neckline retention [--erase]

Says how many closed cases are past the programme's time of keeping (keep-closed), counted from the last thing that
happened to each. A line that has run for 24 h erases them day by day by itself, unless they are more than 5 in 100 of
all cases or its clock has just jumped: then nothing goes, the coordinators hear, and a person looks here.
--erase  erases them now, however many, and texts of no case past keep-texts too. Make a backup before, and one after
`;

/** Runs the command. */
export function runRetention(args: readonly string[], io: Io): Promise<number> {
  if (args.includes('--help')) {
    io.stdout.write(usage);
    return Promise.resolve(0);
  }
  const read = readWords(args, [], ['--erase']);
  if (!read || read.words.length > 0) {
    io.stderr.write(usage);
    return Promise.resolve(2);
  }
  return operate(io, () =>
    withStore(io, async (store, { programme }) => {
      const now = Date.now();
      const { ids, kept } = await overdueNow(store, programme, now);
      const days = (name: string): number => durationOf(programme, name) / 86_400_000;
      io.stdout.write(`${ids.length} of ${kept} cases are closed for longer than ${days('keep-closed')} days\n`);
      if (!read.given['--erase']) return 0;
      let erased = 0;
      for (const id of ids) erased += (await store.eraseCase(id, now, 'kept-long-enough')) ? 1 : 0;
      const texts = await store.dropTexts(now - durationOf(programme, 'keep-texts'));
      io.stdout.write(
        `${erased} cases erased; ${texts} texts of no case older than ${days('keep-texts')} days dropped\n`,
      );
      const left = await scrubbed(store);
      io.stdout.write(left.line);
      return left.exit;
    }),
  );
}
