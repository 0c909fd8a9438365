import { type Log, logFields } from '../line/ports.ts';

const levels = ['debug', 'info', 'warn', 'error'] as const;

const allowed: ReadonlySet<string> = new Set(logFields);

/** Shown instead of a value that is no id and no code. */
const withheld = '?';

/**
 * The value as it may stand in a log: a finite number, a truth value, or one short word of the signs that ids and codes are made
 * of. Whatever has a space, a letter outside ASCII or a plus sign, or is a bare row of digits as phones have, is withheld.
 */
function loggable(value: unknown): string | number | boolean | null {
  if (value === null || typeof value === 'boolean') return value;
  if (typeof value === 'number') return Number.isFinite(value) ? value : withheld;
  if (typeof value !== 'string') return withheld;
  const isWord = /^[A-Za-z0-9-][A-Za-z0-9:._/@-]{0,199}$/.test(value);
  return isWord && !/^\d{6,}$/.test(value) ? value : withheld;
}

/** Writes one JSON line for each event at or above the level. Never texts, numbers or names. */
export function jsonLog(
  write: (line: string) => unknown,
  least: (typeof levels)[number],
  now: () => number = Date.now,
): Log {
  return {
    write: (level, event, fields = {}) => {
      if (levels.indexOf(level) < levels.indexOf(least)) return;
      const kept = Object.entries(fields)
        .filter(([name]) => allowed.has(name))
        .map(([name, value]) => [name, loggable(value)]);
      const line = { time: new Date(now()).toISOString(), level, log: loggable(event), ...Object.fromEntries(kept) };
      write(`${JSON.stringify(line)}\n`);
    },
  };
}
