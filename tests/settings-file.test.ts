import { describe, expect, it } from 'vitest';
import { readSettingsFile } from '../src/settings-file.ts';

const read = (...lines: string[]) => readSettingsFile(lines.join('\n'));

describe('a settings file', () => {
  it.each([
    ['as it stands', 'A=one two', 'one two'],
    ['without the spaces around it', 'A = one \t', 'one'],
    ['with a # that begins no comment', 'A=#one#two', '#one#two'],
    ['with a = in it', 'A=postgres://db.invalid/x?a=b', 'postgres://db.invalid/x?a=b'],
    ['in double marks, a # and spaces in it', 'A="one # two "', 'one # two '],
    ['in double marks, with marks in it', String.raw`A="a \"b\" \$c \\d \e"`, String.raw`a "b" $c \d \e`],
    ['in single marks, nothing in it read', String.raw`A='a \"b\" $c'`, String.raw`a \"b\" $c`],
    ['without the sign that takes the meaning of the next', String.raw`A=a\b\\c`, String.raw`ab\c`],
    ['with marks in the middle', `A=it's "so"`, `it's "so"`],
    ['that is empty', 'A=', ''],
    ['that is empty, in marks', 'A=""', ''],
  ])('has a value %s', (_how, line, value) => {
    expect(read(line)).toEqual({ values: { A: value }, lines: { A: 1 }, faults: [] });
  });

  it('has comments and empty lines between, and any line ends', () => {
    const text = '# one\r\n\r\n  ; two\r\nA=1\r\n\t# three\rB=2\n';
    expect(readSettingsFile(text)).toEqual({ values: { A: '1', B: '2' }, lines: { A: 4, B: 6 }, faults: [] });
  });

  it.each([
    ['a comment behind a value, which would be part of it', 'S3CRET=opensesame # why', 'S3CRET', /a line of its own/],
    ['a comment in the place of a value', 'S3CRET= # opensesame', 'S3CRET', /a line of its own/],
    ['a comment behind a value in marks', 'S3CRET="opensesame" # why', 'S3CRET', /a line of its own/],
    ['more behind the closing mark', 'S3CRET="opensesame"x', 'S3CRET', /nothing behind/],
    ['a mark that is not closed', "S3CRET='opensesame", 'S3CRET', /mark closed/],
    ['a value that goes on in the next line', 'S3CRET=opensesame\\', 'S3CRET', /one line/],
    ['a line of a shell', 'export S3CRET=opensesame', '', /without export/],
    ['a line that is none', 'opensesame', '', /NAME=VALUE/],
    ['a name that is none', '1S=opensesame', '', /NAME=VALUE/],
    ['a comment that goes on in the next line', '# opensesame \\', '', /does not end with/],
    ['signs that nobody sees', 'S3CRET=open\u0007sesame', '', /plain text/],
    ['the mark of another editor', '\uFEFFS3CRET=opensesame', '', /plain text/],
  ])('has a fault with its line, and never with its value: %s', (_what, line, name, expected) => {
    const { values, faults } = read('A=1', line, 'B=2');
    expect(values).toEqual({ A: '1', B: '2' });
    expect(faults).toEqual([{ line: 2, name, expected: expect.stringMatching(expected) }]);
    expect(JSON.stringify(faults)).not.toMatch(/sesame/);
  });

  it('says of a name that stands twice where it stood first', () => {
    expect(read('A=1', 'B=2', 'A=3').faults).toEqual([
      { line: 3, name: 'A', expected: 'each name once; it stands in line 1 too' },
    ]);
  });

  it('with many faults has all of them said', () => {
    expect(read('one', 'A=1 # x', 'B="', 'C=3').faults.map(({ line }) => line)).toEqual([1, 2, 3]);
  });
});
