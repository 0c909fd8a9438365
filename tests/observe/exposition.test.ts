import { describe, expect, it } from 'vitest';
import { expositionOf, type Family } from '../../src/observe/exposition.ts';
import { readExposition } from '../support/exposition-parser.ts';

const family = (more: Partial<Family>): Family => ({
  name: 'line_texts',
  type: 'gauge',
  help: 'Texts.',
  samples: [{ labels: {}, value: 1 }],
  ...more,
});

describe('the text form of the figures', () => {
  it('is written as the format says, to the letter', () => {
    const samples = [
      { labels: { lane: 'sos', link: 'sms' }, value: 2 },
      { labels: {}, value: 0.25 },
    ];
    expect(expositionOf([family({ samples })])).toBe(
      '# HELP line_texts Texts.\n# TYPE line_texts gauge\nline_texts{lane="sos",link="sms"} 2\nline_texts 0.25\n',
    );
  });

  it('carries any word and any number through, read by another reader', () => {
    const odd = 'a "quoted" back\\slash,\nnext } line';
    const values = [0, -1.5, 1e21, 1e-7, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, Number.NaN];
    const samples = values.map((value, index) => ({ labels: { odd, index: String(index) }, value }));
    const read = readExposition(expositionOf([family({ help: odd, samples })])).get('line_texts')!;
    expect(read.help).toBe(odd);
    expect(read.samples.map(({ labels, value }) => [labels.odd, value])).toEqual(values.map((value) => [odd, value]));
  });

  it('leaves out a figure of which nothing is known', () => {
    expect(expositionOf([family({ samples: [] })])).toBe('');
  });

  it.each([
    ['a name with a dash', { name: 'line-texts' }],
    ['a label that begins with a digit', { samples: [{ labels: { '1st': 'x' }, value: 1 }] }],
    ['a label of the collector itself', { samples: [{ labels: { __name__: 'x' }, value: 1 }] }],
  ])('refuses %s', (_what, more) => {
    expect(() => expositionOf([family(more)])).toThrow(/no name of the format/);
  });
});

describe('the reader that the figures are held against', () => {
  it.each([
    ['no line feed at the end', '# HELP a b\n# TYPE a gauge\na 1'],
    ['no type', 'a 1\n'],
    ['a sample twice', '# HELP a b\n# TYPE a gauge\na{x="1"} 1\na{x="1"} 2\n'],
    ['a number with a comma', '# HELP a b\n# TYPE a gauge\na 1,5\n'],
    ['a quote inside a label', '# HELP a b\n# TYPE a gauge\na{x="1"2"} 1\n'],
    ['a bare backslash', '# HELP a b\n# TYPE a gauge\na{x="\\d"} 1\n'],
    ['a sample of another family', '# HELP a b\n# TYPE a gauge\nc 1\n'],
    ['a histogram without an end', '# HELP a b\n# TYPE a histogram\na_bucket{le="1"} 1\na_sum 1\na_count 1\n'],
  ])('refuses %s', (_what, text) => {
    expect(() => readExposition(text)).toThrow();
  });
});
