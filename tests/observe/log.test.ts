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
    const fields = { text: 'AK 1982 F', from: '+0005550100', name: 'Ada Lumo', address: 'bench:worker' };
    // The compiler refuses these names too; this is what happens to a line that got around it.
    log.write('error', 'x', fields as never);
    expect(lines.join('')).not.toMatch(/AK|555|Ada|bench/);
  });

  it.each([
    ['a text', 'AK: danger signs?'],
    ['a number of a phone', '+000555010001'],
    ['the same without its sign', '000555010001'],
    ['a case code', '48291354'],
    ['a name', 'Ada Lumo'],
    ['words of another script', 'ሰላም'],
    ['a line end', 'x\ny'],
    ['an object', { text: 'AK' }],
    ['a long word', 'x'.repeat(201)],
  ])('withholds %s under an allowed name', (_what, value) => {
    const { log, lines } = written('debug');
    log.write('error', 'x', { code: value as never, event: value as never });
    expect(JSON.parse(lines[0]!)).toMatchObject({ code: '?', event: '?' });
  });

  it.each(['SQLITE_BUSY', 'no-channel', 'play:3:1898841600000:m1', 'handle.ts:132', '-', 'TypeError', 'http-503'])(
    'lets the id or code %s stand',
    (value) => {
      const { log, lines } = written('debug');
      log.write('error', 'x', { code: value });
      expect(JSON.parse(lines[0]!)).toMatchObject({ code: value });
    },
  );

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
