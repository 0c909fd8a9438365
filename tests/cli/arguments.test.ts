import { describe, expect, it } from 'vitest';
import { readArguments } from '../../src/cli/arguments.ts';
import { readWords } from '../../src/cli/operate.ts';

const options = { json: { type: 'boolean' }, to: { type: 'string' } } as const;

describe('the words of a command line', () => {
  it('are told from its options, in any order', () => {
    expect(readArguments(['a', '--to', 'x', '--json', 'b'], options)).toMatchObject({
      odd: null,
      words: ['a', 'b'],
      values: { json: true, to: 'x' },
    });
  });

  it('may begin with a dash after a lone --, and be a lone dash', () => {
    expect(readArguments(['-', '--', '--json'], options).words).toEqual(['-', '--json']);
  });

  it.each([
    [['a', '--colour'], '--colour'],
    [['--colour=red'], '--colour'],
    [['-x'], '-x'],
    [['--to'], '--to'],
    [['--to', '--json'], '--to'],
    [['--json=yes'], '--json'],
    [['--__proto__'], '--__proto__'],
  ])('%j: what is wrong is named', (args, odd) => {
    expect(readArguments(args, options)).toMatchObject({ odd, words: [], values: {} });
  });

  it.each([[['--help']], [['-h']], [['--colour', '--help']]])('%j asks for help', (args) => {
    expect(readArguments(args, options).help).toBe(true);
  });

  it('an operator who asks for help with -h has nothing done', () => {
    expect(readWords(['--erase', '-h'], [], ['--erase'])).toBeNull();
  });

  it('an option of an operator has a value, a flag has none', () => {
    const read = (...args: string[]) => readWords(args, ['--reason'], ['--erase']);
    expect(read('c1', '--reason', 'request', '--erase')).toEqual({
      words: ['c1'],
      given: { '--reason': 'request', '--erase': 'yes' },
    });
    expect([read('--reason'), read('--erase=no'), read('--other')]).toEqual([null, null, null]);
  });
});
