/** `neckline sign`: what a clinician of the programme has to agree to, who agreed to what, and when. */

import { Refused } from './open-line.ts';
import { type Io, operate, readWords, withStore } from './operate.ts';
import { isNamed } from './ready/signer.ts';
import { type Stands, standingOf } from './ready/to-sign.ts';

const usage = `neckline sign [--list] [--json]
neckline sign ID...
neckline sign ID... --who "NAME, ROLE"
neckline sign --all --who "NAME, ROLE"

Values that nobody published (conventions), hazards that need a clinician, and languages that somebody must have read.
without --who  shows what there is to sign; with ID in full, as it is agreed to. --json as JSON
--who   who signs: a name and a role, with a comma between, e.g. "Dr Tano, physician of the district"
--all   signs all that is unsigned or was changed since: for whoever has read the whole list
A signature is for the value as it is now: when the value changes it counts no more. Signatures are kept for good.
Exit: 0, 1 an ID that is not in the list (nothing is signed then), 2 bad usage or settings.
`;

/** Runs the command. */
export function runSign(args: readonly string[], io: Io): Promise<number> {
  if (args.includes('--help')) {
    io.stdout.write(usage);
    return Promise.resolve(0);
  }
  const read = readWords(args, ['--who'], ['--all', '--list', '--json']);
  const who = read?.given['--who']?.trim();
  const ids = read?.words ?? [];
  const all = read?.given['--all'] !== undefined;
  const isList = read?.given['--list'] !== undefined;
  const asJson = read?.given['--json'] !== undefined;
  const signs = who !== undefined;
  const odd = all && ids.length > 0;
  const wrong = signs ? isList || asJson || (!all && ids.length === 0) : all || (isList && ids.length > 0);
  if (!read || odd || wrong) {
    io.stderr.write(usage);
    return Promise.resolve(2);
  }
  return operate(io, () =>
    withStore(io, async (store, content) => {
      const { id: programmeId } = content.programme;
      if (signs && !isNamed(who)) {
        throw new Refused(
          '--who: expected a name and a role with a comma between, e.g. "Dr Tano, physician of the district"',
        );
      }
      const stands = standingOf(content, await store.signatures(programmeId));
      const unknown = ids.filter((id) => !stands.some((one) => one.id === id));
      for (const id of unknown)
        io.stderr.write(`${id}: there is nothing of this id to sign; neckline sign lists all\n`);
      if (unknown.length > 0) return 1;
      const chosen = ids.length > 0 ? stands.filter((one) => ids.includes(one.id)) : stands;
      if (!signs) {
        io.stdout.write(
          asJson ? `${JSON.stringify(chosen.map(shown))}\n` : ids.length > 0 ? inFull(chosen) : listText(chosen),
        );
        return 0;
      }
      const open = chosen.filter((one) => one.signed === null);
      const at = Date.now();
      await store.sign(
        programmeId,
        open.map(({ id, hash }) => ({ item: id, hash, at, who })),
      );
      for (const one of open) io.stdout.write(`signed: ${inOneLine(one)}\n`);
      const before = chosen.length - open.length;
      io.stdout.write(`${open.length} signed by ${who}${before > 0 ? `, ${before} were signed before` : ''}\n`);
      return 0;
    }),
  );
}

/** One thing for programs. */
function shown({ id, kind, what, value, hash, signed, lapsed }: Stands): object {
  const by = (one: Stands['signed']): object | null =>
    one && { who: one.who, at: Number.isNaN(one.at) ? null : new Date(one.at).toISOString() };
  return { id, kind, what, value, hash, signed: by(signed), lapsed: by(lapsed) };
}

function inOneLine({ id, kind, what, value }: Stands): string {
  return `${id}: ${what}${kind === 'hazard' ? '' : `: ${value}`}`;
}

function standing({ signed, lapsed }: Stands): string {
  if (signed) return `signed by ${signed.who}, ${day(signed.at)}`;
  if (lapsed) return `CHANGED since ${lapsed.who} signed it, ${day(lapsed.at)}`;
  return 'UNSIGNED';
}

function day(at: number): string {
  return Number.isNaN(at) ? 'day not known' : new Date(at).toISOString().slice(0, 10);
}

const headings: Readonly<Record<Stands['kind'], string>> = {
  programme: 'Values of the programme (its own, from the file in use)',
  number: 'Clinical numbers of the program',
  hazard: 'Hazards (the whole log: deploy/hazards.md)',
  language: 'Languages',
};

/** Everything in a line each, by kind. */
function listText(stands: readonly Stands[]): string {
  const kinds = [...new Set(stands.map(({ kind }) => kind))];
  const blocks = kinds.map((kind) => {
    const lines = stands.filter((one) => one.kind === kind).map((one) => `${inOneLine(one)}. ${standing(one)}`);
    return [headings[kind], ...lines].join('\n');
  });
  const open = stands.filter(({ signed }) => signed === null);
  const changed = open.filter(({ lapsed }) => lapsed !== null).length;
  const last = `${stands.length - open.length} of ${stands.length} are signed, ${changed} were changed since, ${open.length - changed} were never signed.`;
  return `${[...blocks, last].join('\n\n')}\n`;
}

/** A few in full, as they are agreed to. */
function inFull(stands: readonly Stands[]): string {
  return stands.map((one) => `${one.id}: ${one.what}\n  ${one.value}\n  ${standing(one)}\n`).join('\n');
}
