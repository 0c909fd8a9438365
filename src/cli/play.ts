/** `neckline play FILE|-`: plays a conversation script and prints the transcript. */
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import type { Case } from '../case/case.ts';
import { readLine } from '../channels/play/script.ts';
import { type Content, loadContent } from '../content/load.ts';
import { registry } from '../conversation/matters.ts';
import type { Store } from '../line/ports.ts';
import { openKeyRing } from '../store/keys.ts';
import { openStore } from '../store/open.ts';
import { countSegments } from '../text/segments.ts';
import { readArguments } from './arguments.ts';
import { Refused, soundContentOf } from './open-line.ts';
import { type Played, Player } from './player.ts';

const usage = `neckline play FILE|- [--json] [--locale L] [--db FILE] [--programme FILE]

Plays a conversation script with a clock of its own and prints the transcript.
  FILE       the script; - reads it line by line from standard input
  --json     one JSON line per message
  --locale L language of phones that name none (default en)
  --db FILE  keep the database in this file (default: a temporary one)
  --programme FILE
             a programme of your own, its names and choices (default: the invented one of
             the package); a phone that names no site is at its first clinic
Exit code 0, 1 when an expectation failed, 2 for a bad line or bad usage.
`;

export interface PlayIo {
  readonly stdin: NodeJS.ReadableStream;
  readonly stdout: { write(text: string): unknown };
  readonly stderr: { write(text: string): unknown };
}

/**
 * Runs the command. `load` gives what is said, `own` what is with a programme of one's own, or refuses. Reads no environment
 * and opens no socket.
 */
export async function runPlay(
  args: readonly string[],
  io: PlayIo,
  load: () => Content = loadContent,
  own: (programme: string) => Content = soundContentOf,
): Promise<number> {
  const { help, odd, words, values } = readArguments(args, {
    json: { type: 'boolean' },
    locale: { type: 'string' },
    db: { type: 'string' },
    programme: { type: 'string' },
  });
  if (help) {
    io.stdout.write(usage);
    return 0;
  }
  const [named, ...more] = words;
  if (odd !== null || named === undefined || more.length > 0) {
    io.stderr.write(usage);
    return 2;
  }
  let script: string | null = null;
  if (named !== '-') {
    try {
      script = readFileSync(named, 'utf8');
    } catch {
      io.stderr.write(`play: cannot read ${named}\n`);
      return 2;
    }
  }
  let content: Content;
  try {
    content = values.programme === undefined ? load() : own(values.programme);
  } catch (error) {
    if (!(error instanceof Refused)) throw error;
    io.stderr.write(`${error.message}\n`);
    return 2;
  }
  const folder = values.db === undefined ? mkdtempSync(join(tmpdir(), 'neckline-play-')) : null;
  const file = values.db ?? join(folder!, 'play.db');
  const print = (value: unknown): void => {
    io.stdout.write(`${JSON.stringify(value)}\n`);
  };
  const player = new Player({
    content,
    registry,
    log: {
      write: (level, event, fields) => level === 'error' && io.stderr.write(`${event} ${JSON.stringify(fields)}\n`),
    },
    countSegments,
    open: (dueAtOf) => openSimulated(file, dueAtOf),
    emit: values.json ? (played) => print(asJson(played)) : (played) => io.stdout.write(asText(played)),
  });
  const withLocale = (line: string): string =>
    values.locale && /^\s*phone\b/.test(line) && !/\blocale=/.test(line) ? `${line} locale=${values.locale}` : line;
  try {
    if (script !== null) {
      for (const line of script.split('\n')) await player.play(readLine(withLocale(line)));
    } else {
      for await (const line of createInterface({ input: io.stdin, crlfDelay: Number.POSITIVE_INFINITY })) {
        await player.play(readLine(withLocale(line)));
        const at = new Date(player.now).toISOString();
        if (values.json) print({ idle: true, at });
        else io.stdout.write(`idle ${at}\n`);
      }
    }
  } catch (error) {
    if (!(error instanceof RealDatabase)) throw error;
    io.stderr.write('play: this database was used by a real channel and is not played with\n');
    return 2;
  } finally {
    await player.close();
    if (folder) rmSync(folder, { recursive: true, force: true });
  }
  return player.exitCode;
}

/** A database that a real channel ever used is none to play with. */
async function openSimulated(file: string, dueAtOf: (of: Case) => number | null): Promise<Store> {
  const store = await openStore({ url: `sqlite:${file}`, keys: openKeyRing(`${file}.key`), dueAtOf, exclusive: false });
  if ((await store.mark('real')) === null) return store;
  await store.close();
  throw new RealDatabase();
}

class RealDatabase extends Error {}

function asJson(played: Played): unknown {
  if (played.kind === 'message') return played.message;
  if (played.kind === 'failed') return { failed: played.failed, line: played.line };
  return { error: { line: played.line, expected: played.expected } };
}

/** `w> NEW` and `w< words`; further lines of one text are set in. */
function asText(played: Played): string {
  if (played.kind === 'failed') return `failed line ${played.line}: ${played.failed}\n`;
  if (played.kind === 'error') return `bad line ${played.line}: expected ${played.expected}\n`;
  const { phone, dir, text } = played.message;
  const sign = dir === 'in' ? '>' : '<';
  const lead = `${phone}${sign} `;
  return `${lead}${text.split('\n').join(`\n${' '.repeat(lead.length)}`)}\n`;
}
