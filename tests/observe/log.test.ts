import { describe, expect, it } from 'vitest';
import { jsonLog } from '../../src/observe/log.ts';

function written(least: 'debug' | 'info' | 'warn' | 'error') {
  const lines: string[] = [];
  const log = jsonLog(
    (line) => lines.push(line),
    least,
    () => Date.UTC(2030, 2, 4, 8),
  );
  return { log, lines };
}

describe('log', () => {
  it('writes one JSON line with time, level and event', () => {
    const { log, lines } = written('info');
    log.write('warn', 'text-refused', { message: 'e1:0', code: 'no-channel', tries: 2 });
    expect(lines.map((line) => JSON.parse(line))).toEqual([
      {
        time: '2030-03-04T08:00:00.000Z',
        level: 'warn',
        log: 'text-refused',
        message: 'e1:0',
        code: 'no-channel',
        tries: 2,
      },
    ]);
    expect(lines[0]!.endsWith('\n')).toBe(true);
  });

  it('leaves out every field that is not on its list: texts, numbers, names', () => {
    const { log, lines } = written('debug');
    log.write('error', 'x', { text: 'AK 1982 F', from: '+0005550100', name: 'Ada Lumo', address: 'bench:worker' });
    expect(lines.join('')).not.toMatch(/AK|555|Ada|bench/);
  });

  it.each([
    ['debug', 3],
    ['info', 3],
    ['warn', 2],
    ['error', 1],
  ] as const)('at level %s writes that and what is worse', (least, count) => {
    const { log, lines } = written(least);
    log.write('info', 'a');
    log.write('warn', 'b');
    log.write('error', 'c');
    expect(lines).toHaveLength(count);
  });
});
