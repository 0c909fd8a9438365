import { describe, expect, it } from 'vitest';
import { buttonsOf, carriedBy, toggled } from '../../../src/channels/telegram/buttons.ts';
import type { ShownAsk } from '../../../src/conversation/effect.ts';

function ask(kind: string, options: readonly (readonly [string, string])[], more: Partial<ShownAsk> = {}): ShownAsk {
  const made = options.map(([reply, label]) => ({ reply, id: label, label }));
  return { field: 'f', item: null, kind, options: made, token: 'abc/12', ...more };
}

function shown(of: ShownAsk): string[][] {
  return (buttonsOf(of)?.inline_keyboard ?? []).map((row) =>
    row.map((one) => `${one.text} = ${'callback_data' in one ? one.callback_data : ''}`),
  );
}

describe('buttons under a question', () => {
  it('carry the question and the digits, short ones two in a row', () => {
    const of = ask('choice', [
      ['1', 'solid'],
      ['2', 'all fluid'],
      ['9', 'cannot tell from what is on the screen'],
    ]);
    expect(shown(of)).toEqual([
      ['1 solid = a|abc/12|1', '2 all fluid = a|abc/12|2'],
      ['9 cannot tell from what is on the screen = a|abc/12|9'],
    ]);
  });

  it('where several answers fit are marked and sent together; none of them is one tap', () => {
    const of = ask('choices', [
      ['1', 'noisy breathing'],
      ['3', 'hard'],
      ['0', 'none'],
    ]);
    expect(shown(of).flat()).toEqual([
      '1 noisy breathing = t|1',
      '3 hard = t|3',
      '0 none = a|abc/12|0',
      '\u27a4 = a|abc/12|',
    ]);
    const marked = toggled(toggled(buttonsOf(of)!, '3')!, '1')!;
    expect(marked.inline_keyboard.flat().map((one) => one.text)).toEqual([
      '\u2713 1 noisy breathing',
      '\u2713 3 hard',
      '0 none',
      '\u27a4 13',
    ]);
    expect(marked.inline_keyboard.at(-1)).toEqual([{ text: '\u27a4 13', callback_data: 'a|abc/12|13' }]);
    expect(toggled(toggled(marked, '1')!, '3')).toEqual(buttonsOf(of));
  });

  it('of a question where none has a number of its own let none stand alone too, and keep two-digit replies apart', () => {
    const options = [
      { id: 'sore-skin', reply: '53', label: 'sore skin' },
      { id: 'high-pressure', reply: '54', label: 'high pressure' },
      { id: 'none', reply: '50', label: 'none' },
    ];
    const of = { ...ask('choices', []), options };
    expect(shown(of).flat()).toContain('50 none = a|abc/12|50');
    const marked = toggled(toggled(buttonsOf(of)!, '54')!, '53')!;
    expect(marked.inline_keyboard.at(-1)).toEqual([{ text: '\u27a4 53 54', callback_data: 'a|abc/12|53 54' }]);
  });

  it('are left out where digits must be read and typed, and where there is nothing to choose', () => {
    const typed = ask('choice', [['47', 'all well']]);
    expect(buttonsOf({ ...typed, options: typed.options.map((one) => ({ ...one, typed: true as const })) })).toBeNull();
    expect(buttonsOf(ask('text', []))).toBeNull();
    expect(buttonsOf(null)).toBeNull();
  });

  it('are left out, all of them, when one would carry more than 64 bytes', () => {
    expect(buttonsOf(ask('choice', [['1', 'x']], { token: 'y'.repeat(80) }))).toBeNull();
  });

  it('a tapped one says what it stands for', () => {
    expect(carriedBy('a|doctor/abc|24 1')).toEqual({ kind: 'answer', token: 'doctor/abc', reply: '24 1' });
    expect(carriedBy('t|3')).toEqual({ kind: 'toggle', reply: '3' });
    expect(carriedBy('a|abc/12|')).toEqual({ kind: 'nothing' });
  });

  it.each(['', 'x', 'a', 'a|', 't|', 't|1|2', 'a|a b|1', 't|12345', '{"a":1}'])('%j is none of ours', (data) => {
    expect(carriedBy(data)).toBeNull();
  });

  it('marks nothing on buttons that are not ours', () => {
    expect(toggled({ inline_keyboard: [[{ text: 'x', callback_data: 'y' }]] }, '1')).toBeNull();
    expect(toggled({ inline_keyboard: [] }, '1')).toBeNull();
  });
});
