import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { checkContent } from '../../src/content/check-content.ts';
import { problemLine } from '../../src/content/problem.ts';
import { registry } from '../../src/conversation/matters.ts';
import { isGsm7 } from '../../src/text/gsm7.ts';
import { soak } from '../support/runs.ts';
import { foreignIn } from './foreign.ts';
import { madeUp, mark, meant, withMadeUp } from './made-up.ts';
import { playMadeUp } from './play-made-up.ts';

const folder = new URL('../conversations/', import.meta.url).pathname;
const content = withMadeUp();
const script = (name: string): string => readFileSync(`${folder}${name}`, 'utf8');

/** Whole cases of every role; a soak plays all conversations. */
const played = [
  ...[
    'straight',
    'straight-quick',
    'quick-text',
    'two-nodules-sampled',
    'practice-for-everybody',
    'same-patient-perhaps',
  ],
  ...['sos-in-the-middle-and-back', 'sos-repeated', 'sos-unknown-phone', 'sos-nobody-reached', 'needle-stick'],
  ...['cry-in-plain-words', 'age-only', 'crash-while-drying', 'dried-on-purpose', 'holder', 'unwell-patient'],
  ...['ask-the-doctor', 'doctor-off-duty', 'doctor-promise', 'doctor-not-me', 'doctor-refers-after-attempts'],
  ...['stock', 'stock-expires', 'digest', 'roster-suspend-restore', 'roster-two-people', 'shared-phone', 'credit'],
  ...['case-screen-by-screen', 'holder', 'laboratory-sorts-out', 'bethesda', 'tir', 'thy1', 'thy2', 'thy4', 'thy5'],
  ...['outcome-follow-up', 'outcome-refer-urgent', 'bad-specimen', 'typing-errors-findings', 'typing-errors-sampling'],
].map((name) => `${name}.play`);
/** Scripts about what the made-up language cannot have, each with why. */
const without: Readonly<Record<string, string>> = {
  'own-text-is-no-question.play': 'a text of the line is sent back, and not in the words of that language',
  'hard-15-medullary-cancer-in-the-family.play': 'the initials OA are a word of that language, so the tag has the age',
  'label-in-the-laboratorys-language.play': 'somebody sets another language in it',
  'hard-09-several-lumps.play': 'one sentence stands on the next screen',
};
const scripts = readdirSync(folder).filter(
  (name) => name.endsWith('.play') && !Object.hasOwn(without, name) && (soak || played.includes(name)),
);

describe('a made-up language that marks every text and word it supplies', () => {
  it('is a sound language: every text, label and keyword, in one segment where English is', () => {
    expect(checkContent(content, registry).map(problemLine)).toEqual([]);
  });

  it('writes no letter of English, costs the same, and what was meant can be read', () => {
    const text = 'AK: the quick brown fox jumps over the lazy dog. {time} well, 4 done';
    expect(mark(text).replace('{time}', '')).not.toMatch(/[a-z]/iu);
    expect(isGsm7(mark(text).replace('{time}', ''))).toBe(true);
    expect(mark(text)).toHaveLength(text.length);
    expect(meant(mark(text).replace('{time}', ''))).toBe(text.replace('{time}', '').toLowerCase());
  });

  it.each(scripts)('%s: everybody reads it whole in that language, and it means what English means', async (name) => {
    const { failures, received, ...spoken } = await playMadeUp(script(name), content);
    const foreign = foreignIn(content, spoken);
    const english = received.flatMap((text) =>
      foreign(text).length > 0 ? [`${foreign(text).join(' ')} in: ${text}`] : [],
    );
    expect({ failures, english: [...new Set(english)] }).toEqual({ failures: [], english: [] });
  });

  it('the small words around hours, roles, names, practice and dates are heard as that language has them', async () => {
    const lines = [
      'phone d +000555010001 role=doctor',
      'phone e +000555010002 role=doctor',
      'phone c +000555010003 role=coordinator',
      'phone w +000555010004 role=worker',
      'phone v +000555010005 role=worker',
      `d> DUTY 8 ${mark('to')} 17`,
      'd< You are on duty from 8 to 17 every day',
      `d> DUTY ${mark('all')}`,
      'd< On duty at all hours',
      `d> OFF ${mark('until')} 18:00`,
      'd< OFF duty until 18:00',
      `w> STOCK ${mark('fixative')} 6 ${mark('exp')} 3/2031`,
      'w< fixative 6 (mar 2031)',
      `d> NEW ${mark('practice')}`,
      'd< NEW PATIENT',
      `c> PEOPLE ${mark('worker')}`,
      'c< /v, worker, oruma, .*: on\\nw, worker/',
      `c> ADD ${mark('worker')}+${mark('shared')} +000555010042 oruma Ada Lumo/Beno Sarr`,
      'c< ADD worker Ada Lumo/Beno Sarr, +000555010042, oruma?',
      `c> HANDOVER w ${mark('to')} v`,
      'c< /w.* v\\b.*Right: send/',
    ];
    const { failures } = await playMadeUp(lines.join('\n'), content);
    expect(failures).toEqual([]);
  });

  it('an English word that code puts into a text is found, names, codes and own words are not', () => {
    const foreign = foreignIn(content, {
      typed: ['NEW AK 1982 F', '47 press longer', 'ADD worker +1 oruma Ada Lumo'],
      names: ['w'],
    });
    const said = mark('result of the slides');
    expect(foreign(`AK 4829 1354 w Ada Lumo: ${said} Thy4, Lab Velin, 22x15x14, Q47: "press longer"`)).toEqual([]);
    expect(foreign(`AK 4829 1354: ${said} blood, material`)).toEqual(['blood', 'material']);
    expect(foreign(`43y ${said} 1/4 to 4/4`)).toEqual(['y', 'to']);
    expect(foreign(`AK: ${said} TSH ${mark('normal')}`)).toEqual(['TSH']);
  });

  it('a text that nobody translated is found where it is said', async () => {
    const without = withMadeUp('new.breathing');
    expect(without.texts.render(madeUp, 'new.breathing', () => '')).toMatch(/[a-z]{4}/u);
    const { received, ...spoken } = await playMadeUp(script('straight.play'), without);
    expect(received.flatMap(foreignIn(without, spoken))).toContain('breathing');
  });
});
