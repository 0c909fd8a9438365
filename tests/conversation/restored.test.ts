import { describe, expect, it } from 'vitest';
import { person, SmallLine } from '../support/world.ts';

const dayMs = 86_400_000;
/** Sound check digits, issued by nobody. */
const code = '11111157';

function lineRestored(daysAgo: number | null): SmallLine {
  const line = new SmallLine(
    person('w', 'worker'),
    person('l', 'lab', { siteId: 'velin' }),
    person('c', 'coordinator'),
    person('d', 'doctor'),
  );
  line.restoredAt = daysAgo === null ? null : line.now - daysAgo * dayMs;
  return line;
}

describe('a code from after the backup that the line was restored from', () => {
  it.each([
    ['w', `POST ${code}`],
    ['w', `CASE ${code}`],
    ['w', `TAKE ${code}`],
    ['d', `CASE ${code}`],
    ['l', `GOT ${code} 4`],
    ['l', `BAD ${code}`],
  ])('%s sends %s: they hear why, and the coordinator that it was lost', (who, text) => {
    const line = lineRestored(1);
    line.text(who, text);
    line.settle();
    expect(line.heard(who).join('\n')).toMatch(
      /1111 1157: I do not know this code\..*restored from a backup.*Keep slides and papers/,
    );
    expect(line.heard('c')).toEqual([
      expect.stringMatching(/1111 1157\. I do not know it; perhaps it was lost with the restore/),
    ]);
  });

  it.each([
    ['a line that never was restored', null],
    ['a restore long ago', 31],
  ])('%s answers as ever, and tells nobody', (_what, daysAgo) => {
    const line = lineRestored(daysAgo);
    line.text('w', `POST ${code}`);
    line.settle();
    expect(line.heard('w').join('\n')).toMatch(/I do not know this code/);
    expect(line.heard('c')).toEqual([]);
  });

  it('a result for it is held once, as ever', () => {
    const line = lineRestored(1);
    line.text('l', `${code} Thy4`);
    line.settle();
    expect(line.heard('l').join('\n')).toMatch(/Your text is kept, and the coordinator looks at it/);
    expect(line.heard('c')).toHaveLength(1);
  });

  it('a code that is there but not for this person gets the same words, so that nobody learns which codes exist', () => {
    const line = lineRestored(1);
    for (const text of [
      'NEW AK 1982 F R 22x15x14 solid hypo irregular micro TSH normal felt linear signs 0 risks 0 bleeding 0',
      ...['OK', '1', '1357H', 'ALL', '50'],
    ])
      line.text('w', text);
    line.settle();
    const own = [...line.cases.values()][0]!.specimens[0]!.code;
    line.heard('c');
    line.text('l', `GOT ${own} 4`);
    line.settle();
    expect(line.heard('l').join('\n')).toMatch(/I do not know this code\..*restored from a backup/);
    expect(line.heard('c')).toEqual([]);
  });
});

describe('codes of a programme', () => {
  it.each([
    [19_999, 8],
    [20_000, 10],
  ])('after %i were issued the next one has %i digits', (issued, digits) => {
    const line = lineRestored(null);
    line.codesIssued = issued;
    for (const text of [
      'NEW AK 1982 F R 22x15x14 solid hypo irregular micro TSH normal felt linear signs 0 risks 0 bleeding 0',
      ...['OK', '1', '1357H', 'ALL', '50'],
    ])
      line.text('w', text);
    expect([...line.cases.values()][0]!.specimens[0]!.code).toHaveLength(digits);
  });
});
