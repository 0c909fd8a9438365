import { describe, expect, it, vi } from 'vitest';
import { runMain as run } from '../support/run-main.ts';

const names = ['start', 'setup', 'play', 'assess', 'category', 'check', 'draw', 'roster', 'audit', 'ready', 'sign'];

describe('neckline', () => {
  it('names every command with what it does', async () => {
    const { exit, out, err } = await run('--help');
    expect([exit, err]).toEqual([0, '']);
    for (const name of names) expect(out).toMatch(new RegExp(`^ +${name} +\\S`, 'm'));
    expect(out).toContain('Exit codes');
  });

  it('without a command explains itself on stderr, exit 2', async () => {
    const { exit, out, err } = await run();
    expect([exit, out]).toEqual([2, '']);
    expect(err).toContain('--help');
  });

  it.each([['nonsense'], ['--colour'], ['constructor'], ['__proto__'], ['']])(
    'there is no command %j: one line, exit 2',
    async (name) => {
      const { exit, out, err } = await run(name);
      expect([exit, out]).toEqual([2, '']);
      expect(err).toMatch(/^[^\n]+\n$/);
    },
  );

  it.each(names)('%s explains itself and does nothing else', async (name) => {
    const { exit, out, err } = await run(name, '--help');
    expect([exit, err]).toEqual([0, '']);
    expect(out).toContain(name);
  });

  it.each([
    ['start', 'now'],
    ['start', '--trial', 'now'],
    ['ready', 'now'],
    ['sign', '--all'],
    ['sign', '--who', 'Dr Tano, physician'],
    ['setup'],
    ['setup', 'now', '--to', 'x'],
    ['roster'],
    ['roster', 'export'],
    ['roster', 'import'],
    ['roster', 'import', '/nonexistent.csv'],
    ['audit'],
    ['audit', 'forget'],
    ['play'],
    ['play', '/nonexistent.play'],
    ['draw', 'nonsense'],
  ])('%s %s: wrong use is exit 2 with a word on stderr', async (...args) => {
    const { exit, out, err } = await run(...args);
    expect([exit, out]).toEqual([2, '']);
    expect(err).not.toBe('');
  });

  describe('a fault of the program', () => {
    const broken = async () => {
      vi.doMock('../../src/cli/category.ts', () => ({
        runCategory: () => {
          throw new TypeError('AK 1982 F');
        },
      }));
      try {
        return await run('category', 'Thy4');
      } finally {
        vi.doUnmock('../../src/cli/category.ts');
        vi.unstubAllEnvs();
      }
    };

    it('is exit 3 with one line, without the words that it may hold', async () => {
      const { exit, out, err } = await broken();
      expect([exit, out]).toEqual([3, '']);
      expect(err).toMatch(/^neckline category: internal error: TypeError[^\n]*\n$/);
      expect(err).not.toContain('AK');
    });

    it('shows its stack to whoever asks for everything', async () => {
      vi.stubEnv('NECKLINE_LOG', 'debug');
      expect((await broken()).err).toMatch(/\n\s+at /);
    });
  });
});
