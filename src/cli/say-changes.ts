import { problemLine } from '../content/problem.ts';
import { shown } from '../review/apply-changes.ts';
import type { Change } from '../review/changes-file.ts';
import { type CheckedChanges, writeChanges } from './check-changes.ts';

interface Saying {
  readonly root: string;
  /** Put the changes into the package where nothing is wrong. */
  readonly isWritten: boolean;
  readonly isJson: boolean;
}

/** Says what would change and what is wrong with it. Returns 0, or 1 where something is wrong; then nothing is written. */
export function sayChanges(
  checked: CheckedChanges,
  { root, isWritten, isJson }: Saying,
  to: { write(text: string): unknown },
): number {
  const { file, applied, problems, isToday } = checked;
  const isSound = problems.length === 0;
  let written: readonly string[] = [];
  try {
    if (isWritten && isSound) written = writeChanges(root, checked);
  } catch (error) {
    to.write(`cannot write into ${root}: ${(error as NodeJS.ErrnoException).code ?? 'unknown fault'}\n`);
    return 1;
  }
  const [taken, remarks] = [applied?.taken ?? [], applied?.remarks ?? []];
  if (isJson) {
    const said = { ok: isSound, problems, locale: file?.locale ?? null, isToday, changes: taken, remarks, written };
    to.write(`${JSON.stringify(said)}\n`);
    return isSound ? 0 : 1;
  }
  const lines = [
    ...(file === null || isToday
      ? []
      : ['the flows, texts or programme were changed since the sheet was made: each change is held against today']),
    ...taken.map(changeLines),
    ...remarks.map((one) => `${one.key}  remark by ${shown(one.by)}: ${shown(one.note)}`),
    ...problems.map(problemLine),
    ...written.map((name) => `written: ${name}`),
    `${counted(taken.length, 'change')}, ${counted(remarks.length, 'remark')}, ${counted(problems.length, 'problem')}`,
  ];
  to.write(`${lines.join('\n')}\n`);
  return isSound ? 0 : 1;
}

function changeLines({ key, was, becomes, by, note }: Change): string {
  const why = note === '' ? '' : `: ${shown(note)}`;
  return `${key}  changed by ${shown(by)}${why}\n  was      ${shown(was)}\n  becomes  ${shown(becomes)}`;
}

function counted(count: number, what: string): string {
  return `${count} ${what}${count === 1 ? '' : 's'}`;
}
