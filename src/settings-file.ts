/**
 * Settings from a file, as systemd reads it for a unit (systemd.exec, EnvironmentFile): KEY=VALUE, a line each; lines that
 * begin with # or ; are comments; a value may stand between quotation marks. What systemd would take for something else
 * than its writer meant (a comment behind a value, a line that goes on) is a fault here: nobody would see it there.
 */

export interface SettingsFile {
  readonly values: Readonly<Record<string, string>>;
  /** Line of each name, counted from 1. */
  readonly lines: Readonly<Record<string, number>>;
  /** Never with a value: it may be a secret. */
  readonly faults: readonly LineFault[];
}

export interface LineFault {
  readonly line: number;
  /** Empty where the line has no name. */
  readonly name: string;
  readonly expected: string;
}

type Read = { readonly value: string } | { readonly expected: string };

const commentApart =
  'a comment on a line of its own; behind a value it is part of the value (or put the value between quotation marks)';
const wholeLine = 'the whole value on one line, without \\ at its end';

/** Reads all lines; faulty ones are left out and named. Never throws. */
export function readSettingsFile(text: string): SettingsFile {
  const values: Record<string, string> = {};
  const lines: Record<string, number> = {};
  const faults: LineFault[] = [];
  text.split(/\r?\n|\r/).forEach((written, index) => {
    const line = index + 1;
    const fault = (expected: string, name = ''): number => faults.push({ line, name, expected });
    const bare = written.trim();
    if (/[\p{Cc}\uFEFF\uFFFD]/u.test(written.replaceAll('\t', ' '))) {
      fault('plain text in UTF-8, without signs that cannot be seen');
      return;
    }
    if (bare === '') return;
    if (/^[#;]/.test(bare)) {
      // Older versions take the next line for a part of the comment.
      if (bare.endsWith('\\')) fault('a comment that does not end with \\');
      return;
    }
    const found = /^([A-Za-z_][A-Za-z0-9_]*)[ \t]*=(.*)$/.exec(bare);
    if (!found) {
      fault(/^export\s/.test(bare) ? 'NAME=VALUE, without export' : 'NAME=VALUE');
      return;
    }
    const [, name = '', behind = ''] = found;
    if (lines[name] !== undefined) {
      fault(`each name once; it stands in line ${lines[name]} too`, name);
      return;
    }
    lines[name] = line;
    const read = readValue(behind);
    if ('value' in read) values[name] = read.value;
    else fault(read.expected, name);
  });
  return { values, lines, faults };
}

function readValue(behind: string): Read {
  const written = behind.trim();
  if (/^["']/.test(written)) return readQuoted(written);
  if (/[ \t]#/.test(behind)) return { expected: commentApart };
  if (/(?<!\\)(?:\\\\)*\\$/.test(written)) return { expected: wholeLine };
  return { value: written.replace(/\\(.)/g, '$1') };
}

function readQuoted(written: string): Read {
  const isPlain = written.startsWith("'");
  const found = (isPlain ? /^'([^']*)'(.*)$/ : /^"((?:[^"\\]|\\.)*)"(.*)$/).exec(written);
  if (!found) return { expected: 'the quotation mark closed on the same line' };
  const [, inside = '', more = ''] = found;
  const rest = more.trim();
  if (rest !== '')
    return { expected: rest.startsWith('#') ? commentApart : 'nothing behind the closing quotation mark' };
  return { value: isPlain ? inside : inside.replace(/\\(["\\`$])/g, '$1') };
}
