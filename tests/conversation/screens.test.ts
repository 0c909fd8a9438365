import { describe, expect, it } from 'vitest';
import { screenBreak, screensOf } from '../../src/text/screens.ts';
import { shipped } from '../support/shipped.ts';
import { person, SmallLine } from '../support/world.ts';

/** A line whose question about the TSH is three screens, the second left out, the others too long to be joined. */
function lineOfScreens(): SmallLine {
  const line = new SmallLine(person('ada', 'worker'), person('tano', 'doctor'));
  const screens = [`One ${'x'.repeat(100)}`, '', `Two ${'y'.repeat(100)}`].join(screenBreak);
  line.words = {
    ...shipped.texts,
    render: (locale, key, lookup) => (key === 'new.patient' ? screens : shipped.texts.render(locale, key, lookup)),
  };
  return line;
}

describe('a text of several screens', () => {
  it('is a message for each screen that has words, and the last one asks', () => {
    const { says } = lineOfScreens().text('ada', 'NEW');
    expect(says.map((one) => one.text.slice(0, 3))).toEqual(['One', 'Two']);
    expect(says.map((one) => one.ask?.field ?? null)).toEqual([null, 'patient']);
  });

  it('comes again with all its screens, each in the place of the same screen that still waits', () => {
    const line = lineOfScreens();
    const first = line.text('ada', 'NEW').says;
    const again = line.text('ada', '?').says.slice(-2);
    expect(again.map((one) => one.text)).toEqual(first.map((one) => one.text));
    expect(again.map((one) => one.subject)).toEqual(first.map((one) => one.subject));
    expect(new Set(first.map((one) => one.subject)).size).toBe(2);
  });

  it("is never made of somebody's words", () => {
    expect(screensOf(`a${screenBreak} ${screenBreak}b`)).toEqual(['a', 'b']);
    const line = new SmallLine(person('ada', 'worker'), person('tano', 'doctor'));
    line.text('ada', 'NEW AK 1982 F');
    line.text('ada', `DOCTOR one${screenBreak}two`);
    line.settle();
    expect(line.heard('tano').join('')).toMatch(/one two/);
  });
});
