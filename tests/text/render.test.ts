import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { compileTemplate, renderTemplate } from '../../src/text/render.ts';

describe('a text with placeholders', () => {
  it.each([
    ['', [], []],
    ['no values', ['no values'], []],
    ['{tag}', [{ name: 'tag' }], ['tag']],
    ['{tag}: {size} mm, {tag}', [{ name: 'tag' }, ': ', { name: 'size' }, ' mm, ', { name: 'tag' }], ['tag', 'size']],
    ['{attempt}1 material', [{ name: 'attempt' }, '1 material'], ['attempt']],
    ['{lab.name} {codePlain}', [{ name: 'lab.name' }, ' ', { name: 'codePlain' }], ['lab.name', 'codePlain']],
  ])('%j is cut into literals and names', (text, parts, placeholders) => {
    expect(compileTemplate(text)).toEqual({ parts, placeholders, braces: 'sound' });
  });

  it.each(['{', '}', '{tag', 'tag}', '{}', '{ tag }', '{{tag}}', '{1}', '{Tag}'])('%s has a faulty brace', (text) => {
    expect(compileTemplate(text).braces).toBe('faulty');
  });

  it('puts values in as they are, braces in them included', () => {
    const template = compileTemplate('{tag}: {words}.');
    expect(renderTemplate(template, (name) => (name === 'tag' ? 'AK' : 'see {tag} $& $1'))).toBe(
      'AK: see {tag} $& $1.',
    );
  });

  it('loses nothing: with its own names put in, every text comes back', () => {
    const piece = fc.oneof(fc.string(), fc.constantFrom('{tag}', '{size}', '{', '}'));
    fc.assert(
      fc.property(fc.array(piece), (pieces) => {
        const text = pieces.join('');
        expect(renderTemplate(compileTemplate(text), (name) => `{${name}}`)).toBe(text);
      }),
      { seed: 20300304 },
    );
  });
});
