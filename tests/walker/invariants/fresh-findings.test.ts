import { expect, it } from 'vitest';
import { freshFindings } from './fresh-findings.ts';
import { answer, codeIssued, leftLump, madeUp, opened } from './made-up.ts';

const signs = answer('dangerSigns', []);
const warfarin = [answer('bleeding', ['warfarin']), answer('inr', 2.4)];

it('signs and bleeding of another day and an INR of weeks ago before a needle are breaches', () => {
  const walked = madeUp([opened, ...leftLump, signs, ...warfarin, 24 * 20, codeIssued()]);
  expect(freshFindings.broken(walked)).toHaveLength(3);
});

it('those that were asked again on the day are none', () => {
  const again = madeUp([opened, ...leftLump, signs, ...warfarin, 24 * 20, signs, ...warfarin, codeIssued()]);
  expect(freshFindings.broken(again)).toEqual([]);
});

it('signs that were forgotten on the day and not asked again are a breach', () => {
  const forgotten = madeUp([
    ...[opened, ...leftLump, signs, 24 * 20, answer('dangerSigns', null), answer('bleeding', []), codeIssued()],
  ]);
  expect(freshFindings.broken(forgotten)).toEqual(['dangerSigns forgotten, not asked again']);
});

it('one sign of another day and a pregnancy of another day are breaches, whatever was asked since', () => {
  const breathing = answer('asked.breathing', []);
  const pregnant = [answer('patient.pregnant', 'yes'), answer('patient.pregnantWeeks', 14)];
  const rest = [answer('asked.story', []), answer('asked.lump', []), signs, answer('bleeding', [])];
  const walked = madeUp([opened, ...leftLump, breathing, ...pregnant, 24 * 47, ...rest, codeIssued()]);
  expect(freshFindings.broken(walked)).toEqual([
    'breathing of 2030-03-12, needle on 2030-04-28',
    'pregnancy of 2030-03-12, needle on 2030-04-28',
    'weeks of pregnancy of 2030-03-12, needle on 2030-04-28',
  ]);
});

it('a needle before anybody asked of bleeding is a breach, whoever allowed it', () => {
  const walked = madeUp([opened, ...leftLump, signs, codeIssued()]);
  expect(freshFindings.broken(walked)).toEqual(['bleeding never asked']);
});
