import type { Log } from '../line/ports.ts';

const levels = ['debug', 'info', 'warn', 'error'] as const;

/** Fields that may stand in a log: ids, codes, durations, counts. A field that is not here is left out, whatever it holds. */
const allowed: ReadonlySet<string> = new Set([
  'at',
  'channel',
  'code',
  'count',
  'event',
  'eventId',
  'kind',
  'message',
  'ms',
  'port',
  'tries',
]);

/** Writes one JSON line for each event at or above the level. Never texts, numbers or names. */
export function jsonLog(
  write: (line: string) => unknown,
  least: (typeof levels)[number],
  now: () => number = Date.now,
): Log {
  return {
    write: (level, event, fields = {}) => {
      if (levels.indexOf(level) < levels.indexOf(least)) return;
      const kept = Object.fromEntries(Object.entries(fields).filter(([name]) => allowed.has(name)));
      write(`${JSON.stringify({ time: new Date(now()).toISOString(), level, log: event, ...kept })}\n`);
    },
  };
}
