/** `neckline setup`: from what a coordinator says to the files of a programme. */
import { join, resolve } from 'node:path';
import { createInterface } from 'node:readline';
import type { Readable } from 'node:stream';
import { stringify } from 'yaml';
import { type Content, loadContent } from '../content/load.ts';
import { type Problem, problemLine } from '../content/problem.ts';
import { isZone } from '../content/programme.ts';
import { type Answers, readAnswers } from '../setup/answers.ts';
import { interview } from '../setup/interview.ts';
import { folderFiles, ownSecrets, placesOf } from '../setup/kept-files.ts';
import { changedLines } from '../setup/line-diff.ts';
import { saidBefore } from '../setup/talk.ts';
import { readArguments } from './arguments.ts';
import { Refused } from './open-line.ts';
import { type Io, operate } from './operate.ts';
import { keepDraft, readDraft } from './setup-draft.ts';
import { type MadeFile, makeFiles, textIfThere } from './setup-files.ts';
import { languageWords, monthWords, stepWords } from './setup-says.ts';
import { type Terminal, talk } from './setup-talk.ts';
import { makeFolder, putFile, putSecret } from './setup-write.ts';

const usage = `neckline setup --to FOLDER [--from FILE] [--yes]

Writes what a programme needs into a folder: its choices (${folderFiles.programme}), its people (${folderFiles.roster}), its settings
(${folderFiles.settings}) and the secret that the SMS gateway must show. Nothing goes into a database, nobody is texted.

--to FOLDER  where the files go; /etc/neckline on a server
--from FILE  one file that says it all: a copy of deploy/setup.example.yaml, which explains each line
--yes        changes files that are there without asking

Without --from it asks, one question after the other. ? explains a question, < goes back, an empty line takes what stands
in [ ]. Whoever stops half-way calls it again and goes on. What was said stands in ${folderFiles.answers} afterwards, for --from.

All faults are said at once, each with its line, and nothing is written while there is one. Called again, it shows what
would change, line by line, and asks. Secrets that are there are kept; so is what a clinician changed in the programme's
durations and limits, and what stands in the settings besides.

Exit: 0 written, or nothing to change; 1 faults, or not written; 2 wrong use.
`;

export interface SetupIo extends Io {
  /** Where answers are typed; absent = nobody is there. */
  readonly stdin?: Readable;
  /** What the package says, where it was read already. */
  readonly content?: Content;
}

/** Runs the command. */
export async function runSetup(args: readonly string[], io: SetupIo): Promise<number> {
  const read = readArguments(args, { to: { type: 'string' }, from: { type: 'string' }, yes: { type: 'boolean' } });
  if (read.help) {
    io.stdout.write(usage);
    return 0;
  }
  const odd = read.odd ?? read.words[0];
  const { to, from, yes = false } = read.values;
  if (odd !== undefined || !to) {
    io.stderr.write(
      odd === undefined
        ? 'setup: --to FOLDER says where the files go; see --help\n'
        : `setup takes no ${odd}; see --help\n`,
    );
    return 2;
  }
  const terminal = openTerminal(io);
  try {
    return await operate(io, () => {
      const content = io.content ?? loadContent();
      if (content.problems.length > 0) throw new Refused(content.problems.map(problemLine).join('\n'));
      const parts = { io, terminal, folder: resolve(to), content, yes };
      return from === undefined ? fromTalk(parts) : fromFile(parts, from);
    });
  } finally {
    terminal.close();
  }
}

interface SetupParts {
  readonly io: SetupIo;
  readonly terminal: Terminal;
  readonly folder: string;
  readonly content: Content;
  readonly yes: boolean;
}

async function fromFile(parts: SetupParts, file: string): Promise<number> {
  const text = textIfThere(file);
  if (text === null) throw new Refused(`${file}: there is no such file; deploy/setup.example.yaml is one to copy`);
  const read = readAnswers(file, text);
  const made = makeFiles(file, read, parts.folder, parts.content);
  if (!made.files || !read.answers) return refuse(parts, made.problems);
  return finish(parts, read.answers, made.files, made.cautions);
}

/** Asks until the answers have no fault; a question whose answer had one is asked again. */
async function fromTalk(parts: SetupParts): Promise<number> {
  const { folder, content, terminal } = parts;
  const draftFile = join(folder, folderFiles.draft);
  const draft = readDraft(draftFile);
  let [said, earlier] = draft.finished ? [[], draft.said] : [draft.said, draft.earlier];
  terminal.say('? explains a question, < goes back, an empty line takes what stands in [ ].\n');
  if (said.length > 0) terminal.say(`${said.length} answers are kept from last time; it goes on behind them.\n`);
  makeFolder(folder);
  const languages = content.texts.languages.map(({ tag }) => tag);
  for (;;) {
    const place = await talk({
      terminal,
      begin: () => interview({ languages, folder, isZone }),
      said,
      earlier: new Map(earlier.map(({ id, text }) => [id, text])),
      keep: (now) => keepDraft(draftFile, { finished: false, said: now, earlier }),
    });
    if (place === null) {
      terminal.say('\n');
      parts.io.stderr.write(`setup: stopped; the same command goes on, the answers are kept in ${draftFile}\n`);
      return 1;
    }
    const text = answersText(place.result);
    const read = readAnswers(folderFiles.answers, text);
    const made = makeFiles(folderFiles.answers, read, folder, content);
    if (made.files && read.answers) {
      const answers: MadeFile = {
        name: folderFiles.answers,
        before: textIfThere(join(folder, folderFiles.answers)),
        text,
      };
      const ended = await finish(parts, read.answers, [...made.files, answers], made.cautions);
      if (ended === 0) keepDraft(draftFile, { finished: true, said: place.said, earlier: [] });
      return ended;
    }
    for (const one of made.problems) terminal.say(`${one.path}: ${one.what}; ${one.todo}\n`);
    earlier = place.said;
    said = shortest(made.problems.map((one) => saidBefore(place.said, one.path)));
    // A fault that belongs to no question would be found again for ever.
    if (said.length === place.said.length) return refuse(parts, made.problems);
  }
}

function shortest<T>(lists: readonly (readonly T[])[]): readonly T[] {
  return lists.reduce((least, one) => (one.length < least.length ? one : least));
}

function answersText(answers: unknown): string {
  const head =
    '# What was said to neckline setup. It may be changed here and read again: neckline setup --from this file.\n';
  return head + stringify(answers, { lineWidth: 0 });
}

function refuse({ io }: SetupParts, problems: readonly Problem[]): number {
  for (const one of problems) io.stderr.write(`${problemLine(one)}\n`);
  io.stderr.write(`${problems.length} ${problems.length === 1 ? 'fault' : 'faults'}; nothing was written\n`);
  return 1;
}

/** Shows what changes, asks where something is there already, writes, and says what comes next. */
async function finish(
  parts: SetupParts,
  answers: Answers,
  files: readonly MadeFile[],
  cautions: readonly string[],
): Promise<number> {
  const { io, terminal, folder, yes } = parts;
  const changed = files.filter(({ before, text }) => before !== text);
  for (const one of files) io.stdout.write(changeWords(folder, one));
  for (const one of cautions) io.stdout.write(`Mind: ${one}\n`);
  const overwrites = changed.some(({ before }) => before !== null);
  if (overwrites && !yes) {
    terminal.say('Write this? Type yes: ');
    if ((await terminal.line())?.trim().toLowerCase() !== 'yes') {
      io.stderr.write('setup: nothing was written; yes, or --yes, writes it\n');
      return 1;
    }
  }
  makeFolder(folder);
  // The settings name all others, so they come last.
  for (const secret of ownSecrets(answers)) {
    const name = folderFiles[secret];
    const isMade = putSecret(folder, name);
    io.stdout.write(`${join(folder, name)}: ${isMade ? 'made' : 'kept'}\n`);
  }
  for (const { name, text } of changed) putFile(folder, name, text);
  io.stdout.write(languageWords(answers, parts.content));
  io.stdout.write(await monthWords(answers, parts.content));
  io.stdout.write(stepWords(answers, folder, placesOf(answers, folder)));
  return 0;
}

function changeWords(folder: string, { name, before, text }: MadeFile): string {
  const file = join(folder, name);
  if (before === null) return `${file}: new\n`;
  const changes = changedLines(before, text);
  if (changes.length === 0) return `${file}: as it is\n`;
  const lines = changes.map((one) => `  ${one.sign} ${String(one.line).padStart(4)}  ${one.text}\n`);
  return `${file}: changes\n${lines.join('')}`;
}

/** Lines as they are typed. Prompts go where the answer goes: a person reads both. */
function openTerminal({ stdin, stdout }: SetupIo): Terminal & { close(): void } {
  const reader = stdin ? createInterface({ input: stdin, terminal: false }) : null;
  const lines = reader?.[Symbol.asyncIterator]();
  return {
    say: (text) => {
      stdout.write(text);
    },
    line: async () => {
      const next = await lines?.next();
      return next === undefined || next.done ? null : next.value;
    },
    close: () => reader?.close(),
  };
}
