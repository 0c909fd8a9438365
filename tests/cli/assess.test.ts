import { EventEmitter } from 'node:events';
import { describe, expect, it } from 'vitest';
import { runAssess } from '../../src/cli/assess.ts';
import { adult, look } from '../published/look.ts';

async function run(args: string[], chunks: Iterable<string | Buffer>) {
  const written = { out: '', err: '' };
  const into = (stream: 'out' | 'err') => ({
    write(text: string) {
      written[stream] += text;
    },
  });
  const code = await runAssess(args, {
    stdin: (async function* () {
      yield* chunks;
    })(),
    stdout: into('out'),
    stderr: into('err'),
  });
  const lines = written.out.split('\n').slice(0, -1);
  return { code, ...written, lines, answers: () => lines.map((line) => JSON.parse(line)) };
}
const line = (id: string) => JSON.stringify({ id, ...adult(look('solid hypo wide smooth tiny', 22)) });

describe('neckline assess', () => {
  it('answers one line per line, in order, in the shape of the contract', async () => {
    const { code, answers } = await run([], [`${line('a')}\n\n  \n${line('b')}`]);
    expect(code).toBe(0);
    expect(answers().map(({ id }) => id)).toEqual(['a', 'b']);
    expect(Object.keys(answers()[0])).toEqual([
      'id',
      'decision',
      'because',
      'cautions',
      'missing',
      'guidance',
      'sampleToo',
      'proposed',
      'nodules',
    ]);
    expect(answers()[0].nodules[0]).toEqual({
      id: 'n1',
      volumeMl: null,
      policies: {
        'common-practice': { decision: 'sample', decisions: ['sample'] },
        'acr-2017': { decision: 'sample', decisions: ['sample'], levels: ['TR5'], points: [7, 7] },
        'eu-2017': { decision: 'sample', decisions: ['sample'], levels: ['5'] },
        'ata-2015': { decision: 'sample', decisions: ['sample'], levels: ['high'] },
      },
    });
  });

  it('answers what breaks the schema with its path and goes on; exit 1', async () => {
    const { code, answers } = await run([], ['{"id":"x","tsh":"medium"}\n\nnope\n{"oops":1}\n[]\n{}\n']);
    expect(code).toBe(1);
    expect(answers().map(({ id }) => id)).toEqual(['x', null, 4, 5, 6]);
    expect(answers().map(({ error }) => error?.path)).toEqual(['tsh', '', 'oops', '', undefined]);
    expect(answers()[4].decision).toBe('examine-first');
  });

  it('reads lines however the bytes are cut, letters of more than one byte too', async () => {
    const bytes = Buffer.from(`${line('né-1')}\r\n${line('نبض')}\n`);
    const cut = Array.from({ length: Math.ceil(bytes.length / 7) }, (_, n) => bytes.subarray(n * 7, n * 7 + 7));
    const { code, answers } = await run([], cut);
    expect([code, ...answers().map(({ id }) => id)]).toEqual([0, 'né-1', 'نبض']);
  });

  it('refuses a line of more than a million characters and reads the next', async () => {
    const piece = 'x'.repeat(300_000);
    const { code, answers } = await run([], [piece, piece, piece, piece, piece, `${piece}\n${line('a')}\n`]);
    expect(code).toBe(1);
    expect(answers()[0]).toEqual({ id: null, error: { path: '', expected: expect.stringContaining('1000000') } });
    expect(answers()[1].decision).toBe('sample');
  });

  it('governs by the policy named', async () => {
    const bright = JSON.stringify({ id: 'a', ...adult(look('solid iso wide smooth no-foci', 11)) });
    for (const [args, decision] of [
      [[], 'sample'],
      [['--policy', 'acr-2017'], 'no-sampling'],
      [['--policy=eu-2017'], 'follow-up'],
    ] as const) {
      expect((await run([...args], [bright])).answers()[0].decision).toBe(decision);
    }
  });

  it.each([[['--policy', 'bta']], [['--policy']], [['--polcy', 'acr-2017']], [['file.jsonl']]])(
    '%j is a wrong use: exit 2, nothing on stdout',
    async (args) => {
      const { code, out, err } = await run(args, [line('a')]);
      expect([code, out]).toEqual([2, '']);
      expect(err).toContain('usage');
    },
  );

  it('explains itself', async () => {
    const { code, out } = await run(['--help'], []);
    expect(code).toBe(0);
    expect(out).toContain('common-practice');
  });

  it('waits for a slow reader', async () => {
    const events = new EventEmitter();
    let held = 0;
    let most = 0;
    const code = await runAssess([], {
      stdin: (async function* () {
        for (let n = 0; n < 20; n += 1) yield `${line(String(n))}\n`;
      })(),
      stdout: {
        write: () => {
          held += 1;
          most = Math.max(most, held);
          setImmediate(() => {
            held = 0;
            events.emit('drain');
          });
          return false;
        },
        once: (event, listener) => events.once(event, listener),
      },
      stderr: { write: () => true },
    });
    expect([code, most]).toEqual([0, 1]);
  });

  it('keeps up with thousands of lines of which little is known', async () => {
    const sparse = JSON.stringify(adult({ mm: [18] }));
    const chunk = `${sparse}\n`.repeat(100);
    const { lines } = await run(
      [],
      Array.from({ length: 50 }, () => chunk),
    );
    expect(lines).toHaveLength(5000);
    expect(new Set(lines.map((one) => one.replace(/"id":\d+/, '"id":0'))).size).toBe(1);
  });
});
