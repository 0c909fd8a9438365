import { describe, expect, it } from 'vitest';
import { applyChanges } from '../../src/review/apply-changes.ts';
import { readChanges } from '../../src/review/changes-file.ts';

const english = new Map([
  [
    'new',
    JSON.stringify({
      look: '{tag}: look. 1 hard 2 soft',
      two: ['First.', 'Second.'],
      options: { feel: { hard: 'hard|firm' } },
    }),
  ],
  ['quick', JSON.stringify({ sides: { r: 'right' } })],
]);
const swahili = new Map([['new', JSON.stringify({ look: '{tag}: tazama. 1 ngumu 2 laini' })]]);

type Said = Readonly<Record<string, unknown>>;
const said = (one: Said): Said => ({ key: one.key, was: null, english: null, by: 'Ada Lumo', ...one });

function apply(locale: string, ...changes: readonly Said[]) {
  const text = JSON.stringify({ form: 1, version: '0.1.0', locale, source: 'a1', changes }, null, 2);
  const read = readChanges('changes.json', text);
  if (read.value === null) throw new Error(JSON.stringify(read.problems));
  return applyChanges(read.value, english, locale === 'en' ? english : swahili);
}

const look = { key: 'new.look', was: '{tag}: look. 1 hard 2 soft' };
const tazama = { key: 'new.look', was: '{tag}: tazama. 1 ngumu 2 laini', english: look.was };

describe('a reviewer’s changes', () => {
  it('are put into the file of their text, the rest of it as it was', () => {
    const { changed, taken, problems } = apply('en', said({ ...look, becomes: '{tag}: feel. 1 hard 2 soft' }));
    expect(problems).toEqual([]);
    expect(taken).toHaveLength(1);
    expect([...changed.keys()]).toEqual(['new']);
    expect(JSON.parse(changed.get('new')!)).toEqual({
      look: '{tag}: feel. 1 hard 2 soft',
      two: ['First.', 'Second.'],
      options: { feel: { hard: 'hard|firm' } },
    });
  });

  it('reach screens, words of an option, and what a language lacks', () => {
    const { changed, problems } = apply(
      'sw',
      said({ key: 'new.options.feel.hard', english: 'hard|firm', becomes: 'ngumu|imara' }),
      said({ key: 'new.two', english: ['First.', 'Second.'], becomes: ['Kwanza.', 'Pili.'] }),
    );
    expect(problems).toEqual([]);
    expect(JSON.parse(changed.get('new')!)).toEqual({
      look: tazama.was,
      options: { feel: { hard: 'ngumu|imara' } },
      two: ['Kwanza.', 'Pili.'],
    });
  });

  it('a remark alone changes no file', () => {
    const { changed, remarks, problems } = apply('en', said({ ...look, becomes: look.was, note: 'Which lump?' }));
    expect([changed.size, problems]).toEqual([0, []]);
    expect(remarks.map(({ note }) => note)).toEqual(['Which lump?']);
  });

  it.each([
    ['an unknown text', 'en', { key: 'new.lok', becomes: 'x' }, 'there is no text new.lok', 'did you mean new.look?'],
    [
      'a text of today’s other wording',
      'en',
      { ...look, was: 'Old.', becomes: 'x' },
      'was changed since the sheet was made',
      'draw',
    ],
    ['a text that was written meanwhile', 'sw', { ...tazama, was: null, becomes: 'x' }, 'was changed since', 'draw'],
    [
      'another English text behind it',
      'sw',
      { ...tazama, english: 'Old.', becomes: 'x' },
      'its English was changed since',
      'draw',
    ],
    [
      'a lost value',
      'en',
      { ...look, becomes: 'Look. 1 hard 2 soft' },
      'has the values none, it had tag',
      'use the same',
    ],
    [
      'a value more',
      'en',
      { ...look, becomes: '{tag} {lump} look. 1 hard 2 soft' },
      'has the values lump, tag, it had tag',
      'use',
    ],
    [
      'another number',
      'en',
      { ...look, becomes: '{tag}: look. 1 hard 3 soft' },
      'has the numbers 1 3, it had 1 2',
      'write the same',
    ],
    ['no words', 'en', { ...look, becomes: null }, 'would be empty', 'write'],
    [
      'nothing changed and nothing said',
      'en',
      { ...look, becomes: look.was },
      'changes nothing and says nothing',
      'take it out',
    ],
    [
      'words that are no translation',
      'en',
      { key: 'quick.sides.r', was: 'right', becomes: 'left' },
      'is no translation',
      'file itself',
    ],
    [
      'words in lines',
      'en',
      { key: 'new.options.feel.hard', was: 'hard|firm', becomes: ['a', 'b'] },
      'several lines',
      'part them',
    ],
  ])('%s is refused with its key and reason', (_what, locale, change, what, todo) => {
    const { changed, taken, problems } = apply(locale, said(change));
    expect([changed.size, taken.length]).toEqual([0, 0]);
    expect(problems).toEqual([
      {
        ...{ file: 'changes.json', line: 8, path: change.key },
        ...{ what: expect.stringContaining(what), todo: expect.stringContaining(todo) },
      },
    ]);
  });

  it('of two for one text the second is refused', () => {
    const one = said({ ...look, becomes: '{tag}: feel. 1 hard 2 soft' });
    const { taken, problems } = apply('en', one, one);
    expect(taken).toHaveLength(1);
    expect(problems.map(({ what }) => what)).toEqual(['is changed twice']);
  });
});

describe('a file of changes', () => {
  const sound = { form: 1, version: '0.1.0', locale: 'en', source: 'a1', changes: [said({ ...look, becomes: 'x' })] };

  it.each([
    ['no JSON', '{', '-'],
    ['another form', JSON.stringify({ ...sound, form: 2 }), 'form'],
    ['no language', JSON.stringify({ ...sound, locale: '../en' }), 'locale'],
    ['no changes', JSON.stringify({ ...sound, changes: [] }), 'changes'],
    [
      'nobody who says so',
      JSON.stringify({ ...sound, changes: [said({ ...look, becomes: 'x', by: ' ' })] }),
      'changes.0.by',
    ],
    [
      'an unknown name',
      JSON.stringify({ ...sound, changes: [said({ ...look, becomes: 'x', html: 'y' })] }),
      'changes.0.html',
    ],
  ])('with %s is refused at its place', (_what, text, path) => {
    const { value, problems } = readChanges('changes.json', text);
    expect(value).toBeNull();
    expect(problems.map((one) => one.path)).toEqual([path]);
  });

  it('that is sound has none', () => {
    expect(readChanges('changes.json', JSON.stringify(sound)).problems).toEqual([]);
  });
});
