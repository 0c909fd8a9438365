#!/usr/bin/env node
/** `neckline <command>`: finds the command and turns its outcome into an exit code. */
import { realpathSync } from 'node:fs';
import { pathToFileURL } from 'node:url';

interface Io {
  readonly stdin: NodeJS.ReadStream;
  readonly stdout: NodeJS.WriteStream;
  readonly stderr: NodeJS.WriteStream;
}

interface Command {
  readonly does: string;
  /** It reads the settings of a line: the environment, and the file of `--env`. */
  readonly settings?: true;
  run(args: readonly string[], io: Io & { readonly settingsFile: string | null }): Promise<number> | number;
}

/** Each command loads only what it needs. */
const commands: Readonly<Record<string, Command>> = {
  start: {
    does: 'runs the line; with nothing configured, on the phone bench in your browser',
    settings: true,
    run: async (args, io) => (await import('./cli/start.ts')).runStart(args, io),
  },
  setup: {
    does: "asks for a programme's clinics, laboratories, people and links, and writes its files",
    run: async (args, io) => (await import('./cli/setup.ts')).runSetup(args, io),
  },
  play: {
    does: 'plays a conversation script and prints the transcript',
    run: async (args, io) => (await import('./cli/play.ts')).runPlay(args, io),
  },
  assess: {
    does: 'reads findings, one JSON object a line, and prints what they come to',
    run: async (args, io) => (await import('./cli/assess.ts')).runAssess(args, io),
  },
  category: {
    does: 'explains a cytology category: meaning, crosswalk, risk, next action',
    run: async (args, io) => (await import('./cli/category.ts')).runCategory(args, io),
  },
  check: {
    does: 'checks flows and texts and prints what a case costs in messages',
    settings: true,
    run: async (args, io) => {
      const { registry } = await import('./conversation/matters.ts');
      const { shippedNames } = await import('./content/check-shipped.ts');
      const { wordRows } = await import('./conversation/roles.ts');
      const words = wordRows(registry).map(({ word }) => word);
      const shipped = { ...registry, shipped: shippedNames };
      return (await import('./cli/check.ts')).runCheck(args, io, { registry: shipped, words });
    },
  },
  draw: {
    does: 'draws a flow as Mermaid text; with --html the review sheet of all flows, texts and numbers',
    settings: true,
    run: async (args, io) => {
      const { registry } = await import('./conversation/matters.ts');
      return (await import('./cli/draw.ts')).runDraw(args, io, { registry });
    },
  },
  cards: {
    does: 'prints the cards for the wall of the clinic: one HTML file of A4 pages',
    settings: true,
    run: async (args, io) => (await import('./cli/cards.ts')).runCards(args, io),
  },
  roster: {
    does: 'imports people from a CSV file: roster import FILE.csv',
    settings: true,
    run: async (args, io) => (await import('./cli/roster.ts')).runRoster(args, io),
  },
  invite: {
    does: 'prints a link by which one person joins on Telegram',
    settings: true,
    run: async (args, io) => (await import('./cli/invite.ts')).runInvite(args, io),
  },
  ready: {
    does: 'says what is missing before a patient may be served, and how to mend it',
    settings: true,
    run: async (args, io) => (await import('./cli/ready.ts')).runReady(args, io),
  },
  sign: {
    does: 'what a clinician of the programme has to agree to; records who agreed, and when',
    settings: true,
    run: async (args, io) => (await import('./cli/sign.ts')).runSign(args, io),
  },
  audit: {
    does: 'recomputes every chain of the history, or shows who saw and did what in one case',
    settings: true,
    run: async (args, io) => (await import('./cli/audit.ts')).runAudit(args, io),
  },
  parked: {
    does: 'events that could not be handled: list, retry, drop',
    settings: true,
    run: async (args, io) => (await import('./cli/parked.ts')).runParked(args, io),
  },
  compare: {
    does: "after an outage: finds texts in the gateway's log that the line never took",
    settings: true,
    run: async (args, io) => (await import('./cli/compare.ts')).runCompare(args, io),
  },
  backup: {
    does: 'a sealed copy of the database while the line runs, read back and compared',
    settings: true,
    run: async (args, io) => (await import('./cli/backup.ts')).runBackup(args, io),
  },
  alert: {
    does: 'sends word outside the links: that a backup failed, that the line is down, or a test',
    settings: true,
    run: async (args, io) => (await import('./cli/alert.ts')).runAlert(args, io),
  },
  restore: {
    does: 'brings a backup back into an empty data folder',
    settings: true,
    run: async (args, io) => (await import('./cli/restore.ts')).runRestore(args, io),
  },
  keys: {
    does: 'makes the pair that backups are sealed to; changes the wrapping key',
    settings: true,
    run: async (args, io) => (await import('./cli/keys.ts')).runKeys(args, io),
  },
  erase: {
    does: 'erases one patient by destroying the key of the case, and proves it',
    settings: true,
    run: async (args, io) => (await import('./cli/erase.ts')).runErase(args, io),
  },
  retention: {
    does: 'closed cases past their time of keeping: how many, and erasing them by hand',
    settings: true,
    run: async (args, io) => (await import('./cli/retention.ts')).runRetention(args, io),
  },
};

const usage = `neckline COMMAND

A line that a clinic texts while it works up a lump in the thyroid.

${Object.entries(commands)
  .map(([name, { does }]) => `  ${name.padEnd(9)} ${does}`)
  .join('\n')}

neckline COMMAND --help tells more. To every command that reads settings, --env FILE names those of the line. Exit codes: 0 done, 1 a finding or failed expectation, 2 bad usage, 3 a fault of the program.
`;

/** Runs one command. 3 when it throws: one line for the operator, no words of anybody. */
export async function main(args: readonly string[], io: Io): Promise<number> {
  const [name, ...rest] = args;
  if (name === '--help' || name === 'help') {
    io.stdout.write(usage);
    return 0;
  }
  const command = name !== undefined && Object.hasOwn(commands, name) ? commands[name] : undefined;
  if (!command) {
    io.stderr.write(name === undefined ? usage : `neckline: no command ${name.slice(0, 40)}; see neckline --help\n`);
    return 2;
  }
  const known = command.settings ? await import('./cli/settings-option.ts') : null;
  const { args: words, file, fault: odd } = known?.takeSettingsOption(rest) ?? { args: rest, file: null, fault: null };
  if (odd !== null) {
    io.stderr.write(`neckline ${name}: ${odd}\n`);
    return 2;
  }
  const settingsFile = file ?? known?.settingsOfUnit() ?? null;
  const { stdin, stdout, stderr } = io;
  try {
    const exit = await command.run(words, { stdin, stdout, stderr, settingsFile });
    if (known && (words.includes('--help') || words.includes('-h')) && exit === 0) stdout.write(known.settingsHelp);
    return exit;
  } catch (error) {
    const fault = error instanceof Error ? error : new Error('unknown fault');
    io.stderr.write(`neckline ${name}: internal error: ${fault.name} ${place(fault)}\n`);
    const { readSettings } = await import('./config.ts');
    const read = readSettings(undefined, settingsFile);
    // The message of a fault may hold somebody's words: only who asks for everything gets it.
    if (read.ok && read.settings.NECKLINE_LOG === 'debug') io.stderr.write(`${fault.stack}\n`);
    return 3;
  }
}

/** Where it broke: file and line, never the message, which may hold somebody's words. */
function place(fault: Error): string {
  return /([\w-]+\.[jt]s:\d+):\d+\)?$/m.exec(fault.stack ?? '')?.[1] ?? '';
}

const started = process.argv[1] ? pathToFileURL(realpathSync(process.argv[1])).href : '';
if (started === import.meta.url) {
  // What is made is for the line's user only, whoever starts it.
  process.umask(0o077);
  // A reader that goes away (`| head`) is no fault, and a line goes on although nobody reads what it says of itself.
  const serves = process.argv[2] === 'start';
  process.stdout.on('error', (error: NodeJS.ErrnoException) => {
    if (error.code === 'EPIPE' && !serves) process.exit(0);
  });
  process.stderr.on('error', () => undefined);
  process.exitCode = await main(process.argv.slice(2), process);
}
