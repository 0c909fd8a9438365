import { readFileSync } from 'node:fs';
import type { SmallSystem } from './small-system.ts';

/** Values of one key of a unit file, in order. */
export function unitValues(file: string, key: string): readonly string[] {
  const lines = readFileSync(file, 'utf8').split('\n');
  return lines.filter((line) => line.startsWith(`${key}=`)).map((line) => line.slice(key.length + 1));
}

/** An environment file as systemd takes it: a comment is a line, everything behind `=` is the value. */
export function environmentOf(text: string): Readonly<Record<string, string>> {
  const lines = text.split('\n').filter((line) => /^[A-Z_]+=./.test(line));
  return Object.fromEntries(lines.map((line) => [line.slice(0, line.indexOf('=')), line.slice(line.indexOf('=') + 1)]));
}

export interface Started {
  /** Program and arguments, from outside the system. */
  readonly command: readonly [string, ...string[]];
  readonly env: Readonly<Record<string, string>>;
}

/** How a unit's command is started in a system without a manager: its user, folder, environment and umask, as it says. */
export function startOf(system: SmallSystem, unit: string): Started {
  const one = (key: string): string => unitValues(system.at(`/etc/systemd/system/${unit}`), key)[0]!;
  const env = environmentOf(readFileSync(system.at(one('EnvironmentFile')), 'utf8'));
  // %% is how a unit writes %.
  const words = one('ExecStart').replaceAll('%%', '%');
  const shell = `umask ${one('UMask')}; cd ${one('WorkingDirectory')} && exec ${words}`;
  return {
    command: ['chroot', `--userspec=${one('User')}:${one('Group')}`, system.root, '/bin/sh', '-c', shell],
    env: { PATH: '/usr/sbin:/usr/bin:/sbin:/bin', ...env },
  };
}
