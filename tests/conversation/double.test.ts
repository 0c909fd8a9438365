import { expect, it } from 'vitest';
import { person, SmallLine } from '../support/world.ts';

/** A patient up to a question where a doubled text is asked about, a minute after the last answer. */
function atThe(question: RegExp, answers: readonly string[]): SmallLine {
  const line = new SmallLine(person('w', 'worker'));
  for (const text of ['NEW AK 1982 F', '60', '70', '80', '0', ...answers]) line.text('w', text);
  expect(line.heard('w').at(-1)).toMatch(question);
  line.now += 60_000;
  return line;
}

it('the same answer behind a B was typed anew, however fast: it is no copy of the one before', () => {
  const line = atThe(/do you feel a lump\?/, ['40']);
  for (const text of ['1', 'B']) line.text('w', text);
  expect(line.heard('w').at(-1)).toMatch(/do you feel a lump\?/);
  line.text('w', '1');
  expect(line.heard('w').at(-1)).toMatch(/the TSH/);
});

it('without a B the same answer in the same second is asked about', () => {
  const line = atThe(/which thinner\?/, ['6']);
  for (const text of ['1', '1']) line.text('w', text);
  expect(line.heard('w').join()).toContain('your answer "1" came twice');
});

it('what nobody knows may be said of one question after the other, however fast', () => {
  const line = new SmallLine(person('w', 'worker'));
  const quick = 'R 22x15x14 TSH normal felt linear signs 0 bleeding 0 risks 0';
  for (const text of [`NEW AK 1982 F ${quick}`, '9', '9', '9']) line.text('w', text);
  const heard = line.heard('w').join();
  expect(heard).not.toContain('came twice');
  expect(heard).toContain('CHECK AK');
});
