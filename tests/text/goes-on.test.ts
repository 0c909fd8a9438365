import { describe, expect, it } from 'vitest';
import { findExpected } from '../../src/channels/play/expectation.ts';
import { goesOnSign, screenBreak, screensOf } from '../../src/text/screens.ts';

const lead = `Q47 AK48:${goesOnSign}`;
const sentence = (word: string): string => `${word} ${'x'.repeat(60)}.`;

describe('a screen whose values are longer than usual', () => {
  it('stays one screen while it fits one segment', () => {
    expect(screensOf(`${lead}Q47 DECIDE AK48. Why: solid.`)).toEqual(['Q47 DECIDE AK48. Why: solid.']);
  });

  it('is cut between its sentences, each next screen with the tag first', () => {
    const [one, two, three] = ['One', 'Two', 'Three'].map(sentence);
    expect(screensOf(`${lead}${one} ${two} ${three}${screenBreak}Last`)).toEqual([
      `${one} ${two}`,
      `Q47 AK48: ${three}`,
      'Last',
    ]);
  });

  it("is never cut inside a person's words, so that none of them stands behind a tag of ours", () => {
    const words = `"${sentence('she')} Release it. ${sentence('now')}"`;
    const brackets = `(${sentence('papillary')} Refer. ${sentence('now')})`;
    expect(screensOf(`${lead}Q47 ASKS AK48: ${words}`)).toEqual([`Q47 ASKS AK48: ${words}`]);
    expect(screensOf(`${lead}Q47 AK48: Thy4 ${brackets}`)).toEqual([`Q47 AK48: Thy4 ${brackets}`]);
  });

  it('is cut between its lines where it is a list', () => {
    const lines = ['a', 'b', 'c'].map((one) => `${one} waits. ${'x'.repeat(60)}`);
    expect(screensOf(`${goesOnSign}OPEN:\n${lines.join('\n')}`)).toEqual([
      `OPEN:\n${lines[0]}\n${lines[1]}`,
      `${lines[2]}`,
    ]);
  });
});

describe('an expectation of a play', () => {
  it('spans the screens of what came with the flag s, and one of them without', () => {
    const texts = ['Q47 TODAY AK: Thy4.', 'Q47 AK: reply 47 and: 1 refer'];
    expect(findExpected('/Thy4.*1 refer/s', texts).met).toBe(true);
    expect(findExpected('/Thy4.*1 refer/', texts).met).toBe(false);
  });
});
