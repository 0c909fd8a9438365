import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { unitValues } from './unit-file.ts';

/** Sets of system calls by name, as this system's service manager knows them. */
function knownSets(): ReadonlyMap<string, readonly string[]> {
  const text = execFileSync('systemd-analyze', ['syscall-filter'], {
    encoding: 'utf8',
    stdio: ['ignore', 'pipe', 'ignore'],
  });
  const sets = new Map<string, string[]>();
  let set = '';
  for (const line of text.split('\n')) {
    const word = line.trim();
    if (line.startsWith('@')) {
      set = word;
      sets.set(set, []);
    } else if (line.startsWith(' ') && !word.startsWith('#')) sets.get(set)?.push(word);
  }
  return sets;
}

/** The system calls that a unit lets through. */
export function allowedCalls(unit: string): ReadonlySet<string> {
  const sets = knownSets();
  const expand = (word: string): readonly string[] =>
    word.startsWith('@') ? (sets.get(word) ?? []).flatMap(expand) : [word];
  // What the manager itself always leaves: without it nothing could be started or ended.
  const allowed = new Set(expand('@default'));
  for (const value of unitValues(unit, 'SystemCallFilter')) {
    const takesAway = value.startsWith('~');
    for (const call of value.replace('~', '').split(' ').flatMap(expand)) {
      if (takesAway) allowed.delete(call);
      else allowed.add(call);
    }
  }
  return allowed;
}

/** Words before a command that write each system call of it and of its threads to a file. */
export const traced = (file: string): readonly string[] => ['strace', '-f', '-qq', '-e', 'signal=none', '-o', file];

/** What a program called once it had been started; `program` is the end of its path. What went before is not its own. */
export function callsOf(file: string, program: string): ReadonlySet<string> {
  const lines = readFileSync(file, 'utf8').split('\n');
  const start = lines.findIndex((line) => /execve\("([^"]+)"/.exec(line)?.[1]?.endsWith(program));
  const calls = lines.slice(start + 1).map((line) => /^\d+ +(\w+)\(/.exec(line)?.[1]);
  return new Set(start < 0 ? [] : calls.filter((call) => call !== undefined));
}
