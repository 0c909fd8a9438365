/** Where a command finds the settings of its line: `--env FILE`, the file of the unit that runs this package, or nowhere. */
import { readFileSync, realpathSync } from 'node:fs';
import { hasSettings } from '../config.ts';
import { packageRoot } from '../content/load.ts';

/** What the help of each command that reads settings ends with. */
export const settingsHelp = `
--env FILE  settings of the line, as the file of its service has them (deploy/neckline.env.example). Without it they are
            those of the service neckline.service where it runs this program, else of the environment alone. What file and
            environment say differently is refused by name
`;

/** Where units are kept, what a machine's keeper wrote before what a package brought. */
const unitFiles = ['/etc/systemd/system/neckline.service', '/usr/lib/systemd/system/neckline.service'];

/** Arguments without the option. `file`: null = not said. `fault`: the option is there, and not rightly used. */
export interface SettingsOption {
  readonly args: readonly string[];
  readonly file: string | null;
  readonly fault: string | null;
}

/** Takes `--env FILE` or `--env=FILE` out of the arguments of a command, wherever it stands. */
export function takeSettingsOption(given: readonly string[]): SettingsOption {
  const args: string[] = [];
  const files: string[] = [];
  let isNext = false;
  for (const one of given) {
    if (isNext) files.push(one);
    else if (one.startsWith('--env=')) files.push(one.slice('--env='.length));
    else if (one !== '--env') args.push(one);
    isNext = !isNext && one === '--env';
  }
  if (isNext) files.push('');
  const [file = null, another] = files;
  if (another !== undefined) return { args, file: null, fault: '--env: expected one file' };
  if (file !== null && (file === '' || file.startsWith('--')))
    return { args, file: null, fault: '--env: expected the file of the settings behind it' };
  return { args, file, fault: null };
}

/**
 * The settings file of the unit whose folder is that of this program: whoever calls the program of a running line means that
 * line. Null: no unit runs it, the unit names none or several files, or one that this user may not read while the unit itself
 * gave its settings.
 */
export function settingsOfUnit(units: readonly string[] = unitFiles, root: string = packageRoot): string | null {
  const text = units.map(readIfThere).find((one) => one !== null);
  if (!text) return null;
  const folder = /^WorkingDirectory=(\/\S+)\s*$/m.exec(text)?.[1];
  const [file, another] = [...text.matchAll(/^EnvironmentFile=-?(\/\S+)\s*$/gm)].map((found) => found[1]!);
  const isOurs = folder !== undefined && real(folder) !== null && real(folder) === real(root);
  if (!isOurs || file === undefined || another !== undefined) return null;
  return readIfThere(file) === null && hasSettings() ? null : file;
}

function readIfThere(file: string): string | null {
  try {
    return readFileSync(file, 'utf8');
  } catch {
    return null;
  }
}

/** Without links: a program is installed under its version and called by a link. */
function real(path: string): string | null {
  try {
    return realpathSync(path);
  } catch {
    return null;
  }
}
