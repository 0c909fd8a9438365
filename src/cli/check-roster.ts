/** What `neckline check` finds outside the package: in the list of people, and in the settings. */
import { readFileSync } from 'node:fs';
import { roles } from '../case/roles.ts';
import type { Content } from '../content/load.ts';
import type { Problem } from '../content/problem.ts';
import { emptyRoles } from '../conversation/last-one.ts';
import { Refused } from './open-line.ts';
import { readRoster } from './roster-file.ts';
import { prefixesOf } from './sms-link.ts';

export interface CheckedRoster {
  readonly problems: readonly Problem[];
  /** How many of each role, and which roles have nobody: a list may hold a part of the people only. */
  readonly words: string;
}

/** Reads the list as an import would for a line that knows nobody. `allowed`: NECKLINE_SMS_PREFIXES. */
export function checkRoster(file: string, content: Content, allowed: string | undefined): CheckedRoster {
  const problem = (line: number, what: string, todo: string): Problem => ({ file, line, path: '-', what, todo });
  let text: string;
  try {
    text = readFileSync(file, 'utf8');
  } catch {
    return { problems: [problem(1, 'cannot be read', 'name the file of the roster')], words: '' };
  }
  const prefixes = readPrefixes(allowed);
  const { people, faults } = readRoster(text, content, [], false, {
    prefixes: typeof prefixes === 'string' ? null : prefixes,
  });
  const { programme } = content;
  const counted = roles.map((role) => `${people.filter((one) => one.roles.includes(role)).length} ${role}`);
  const nobody = emptyRoles({ roster: people, programme }).map(({ role, siteId }) =>
    siteId === null ? role : `laboratory of ${siteId}`,
  );
  const lacking = nobody.length === 0 ? '' : `; nobody yet as ${nobody.join(', ')}`;
  return {
    problems: [
      ...(typeof prefixes === 'string' ? [settingsProblem(prefixes, null)] : []),
      ...faults.map(({ line, expected }) => problem(line, 'this line would be left out', `expected ${expected}`)),
    ],
    words: `roster ${file}: ${people.length} people, ${counted.join(', ')}${lacking}`,
  };
}

/** A fault of the settings among the others. */
export function settingsProblem(fault: string, file: string | null): Problem {
  const found = /^(.*):(\d+): (?:(\w+): )?(.*)$/.exec(fault);
  const [name = '-', ...words] = fault.split(': ');
  return found
    ? {
        file: found[1]!,
        line: Number(found[2]),
        path: found[3] ?? '-',
        what: 'is no setting as it stands',
        todo: found[4]!,
      }
    : { file: file ?? 'environment', line: 1, path: name, what: words.join(': '), todo: 'correct the setting' };
}

function readPrefixes(allowed: string | undefined): readonly string[] | null | string {
  if (allowed === undefined) return null;
  try {
    return prefixesOf(allowed);
  } catch (error) {
    if (error instanceof Refused) return error.message;
    throw error;
  }
}
