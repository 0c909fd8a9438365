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

  it('is cut behind a comma where one sentence is longer than a screen', () => {
    const reasons = ['solid', 'x'.repeat(60), 'y'.repeat(60), 'not felt', 'z'.repeat(20)];
    expect(screensOf(`${lead}Q47 DECIDE AK48. No needle: ${reasons.join(', ')}. The patient waits.`)).toEqual([
      `Q47 DECIDE AK48. No needle: solid, ${reasons[1]}, ${reasons[2]},`,
      `Q47 AK48: not felt, ${reasons[4]}. The patient waits.`,
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

describe('a screen about a patient with a long tag', () => {
  const tag = 'PRACTICE AK58';

  it('goes on with the tag where it fits no segment, so that each screen says whom it is about', () => {
    const [one, two, three] = ['One', 'Two', 'Three'].map(sentence);
    expect(screensOf(`${tag}: ${one} ${two} ${three}`, tag)).toEqual([`${tag}: ${one} ${two}`, `${tag}: ${three}`]);
    expect(screensOf(`Q47 ${tag}: ${one} ${two} ${three}`, tag)).toEqual([
      `Q47 ${tag}: ${one} ${two}`,
      `Q47 ${tag}: ${three}`,
    ]);
  });

  it('goes on too behind a question whose number is longer than usual', () => {
    const [one, two] = [`reply 595814 and: 1 ${'x'.repeat(100)}.`, 'Or 595814 and words, as many as you like.'];
    expect(screensOf(`Q595814 BS: ${one} ${two}`, 'BS')).toEqual([`Q595814 BS: ${one}`, `Q595814 BS: ${two}`]);
    expect(screensOf(`Q5958 BS: ${one} ${two}`, 'BS')).toHaveLength(1);
  });

  it('of one sentence is cut before its first digit to answer', () => {
    const options = `1 ${'x'.repeat(60)} 2 ${'y'.repeat(60)} 9 not known`;
    expect(screensOf(`${tag} R 22x15 looks: ${options}`, tag)).toEqual([`${tag} R 22x15 looks:`, `${tag}: ${options}`]);
  });

  it('stays whole while it fits, as a list does, and as words that do not begin with the patient', () => {
    const label = `4829 1354\n${sentence('NAME')} ${sentence('BORN')} ${sentence('TAKEN')}`;
    expect(screensOf(`${tag}: ${sentence('One')}`, tag)).toHaveLength(1);
    expect(screensOf(`${tag}\n${label}`, tag)).toHaveLength(1);
    expect(screensOf(label, tag)).toEqual([label]);
    expect(screensOf(`One of ${tag}: ${label.replace('\n', ' ')}`, tag)).toHaveLength(1);
  });
});

describe('an expectation of a play', () => {
  it('spans the screens of what came with the flag s, and one of them without', () => {
    const texts = ['Q47 TODAY AK: Thy4.', 'Q47 AK: reply 47 and: 1 refer'];
    expect(findExpected('/Thy4.*1 refer/s', texts).met).toBe(true);
    expect(findExpected('/Thy4.*1 refer/', texts).met).toBe(false);
  });
});
