import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { packageRoot } from '../../src/content/load.ts';
import { readProgramme } from '../../src/content/programme.ts';
import { programmeText } from '../../src/setup/programme-text.ts';
import { exampleAnswers } from './answers-fixture.ts';

const shipped = readFileSync(join(packageRoot, 'flows', 'programme.yaml'), 'utf8');
const answers = exampleAnswers();
const made = programmeText(answers, shipped, null);
const lineWith = (text: string, piece: string) => text.split('\n').find((line) => line.includes(piece));
const read = (text: string) => {
  const { programme, problems } = readProgramme('programme.yaml', text);
  expect(problems).toEqual([]);
  return programme!;
};

describe('a programme made from answers', () => {
  it('keeps every number of the package with the reason beside it, word for word', () => {
    const numbers = (text: string) => text.slice(text.indexOf('\nurgencies:'));
    expect(numbers(made)).toBe(numbers(shipped));
    expect(lineWith(made, 'inr:')).toBe(lineWith(shipped, 'inr:'));
  });

  it('has the names of the answers in place of the invented ones', () => {
    const programme = read(made);
    expect(programme).toMatchObject({ voiceNumber: '+000555010000', night: 'Tamboro Hospital, gate 2' });
    expect(programme.sites[1]).toMatchObject({
      ...{ id: 'kesu', labId: 'mora', guidance: false },
      ...{ hospital: 'Kesu Mission Hospital', night: 'Kesu Mission, night bell', voiceNumber: '+000555010100' },
    });
    expect(programme.sites[0]).toMatchObject({ id: 'oruma', hospital: 'Tamboro Hospital', zone: 'Africa/Nairobi' });
    expect(programme.laboratories.map((one) => [one.id, one.stain, one.assays])).toEqual([
      ['velin', 'wet', []],
      ['mora', 'both', ['thyroglobulin', 'calcitonin']],
    ]);
    expect(made).not.toMatch(/invented|cannot be dialled/);
  });

  it('says the source of what a laboratory chose, where the package knows one', () => {
    const [velin] = answers.laboratories;
    const text = programmeText({ ...answers, laboratories: [{ ...velin!, alcohol: 'coat' }] }, shipped, null);
    expect(lineWith(text, 'alcohol: coat')).toContain('Safneck, Acta Cytol 2001;45:365');
  });

  it('shows the doctor every policy but the one that governs', () => {
    const text = programmeText({ ...answers, programme: { ...answers.programme, policy: 'eu-2017' } }, shipped, null);
    expect(read(text)).toMatchObject({ policy: 'eu-2017', shown: ['common-practice', 'acr-2017', 'ata-2015'] });
    expect(lineWith(text, 'policy: eu-2017')).not.toContain('plain rule');
  });

  it('speaks the languages of the answers, also where the file is of an older version', () => {
    const spoken = { ...answers, programme: { ...answers.programme, languages: ['en', 'fr'] } };
    const older = shipped.replace(/^languages:.*\n/mu, '');
    expect(read(older).languages).toBe('all');
    for (const before of [null, made, older]) {
      const text = programmeText(spoken, shipped, before);
      expect(read(text).languages).toEqual(['en', 'fr']);
      expect(lineWith(text, 'languages:')).toMatch(/^languages: \[en, fr\] # no other is offered/u);
    }
  });

  it('reckons no money where nobody said a price', () => {
    const { price: _, ...without } = answers;
    expect(read(programmeText(without, shipped, null)).price).toBeUndefined();
    expect(read(made).price).toEqual(answers.price);
  });
});

describe('a programme that is there already', () => {
  it('is the same when the answers are', () => {
    expect(programmeText(answers, shipped, made)).toBe(made);
  });

  it('keeps what a clinician changed in it, with the reason', () => {
    const before = made
      .replace(/ {2}watch-long: 60m.*/, '  watch-long: 90m # Dr Tano, 2030-03-04')
      .replace('pictures: refused', 'pictures: to-doctor');
    const after = programmeText(
      { ...answers, programme: { ...answers.programme, hospital: 'Velin Hospital' } },
      shipped,
      before,
    );
    expect(lineWith(after, 'watch-long:')).toBe('  watch-long: 90m # Dr Tano, 2030-03-04');
    expect(read(after)).toMatchObject({ pictures: 'to-doctor', hospital: 'Velin Hospital' });
  });

  it('takes over what a newer version reads, and lets go of what nobody reads any more', () => {
    const before = made.replace(/ {2}watch-long: .*\n/, '  watch-for-ever: 60m\n');
    const after = programmeText(answers, shipped, before);
    expect(lineWith(after, 'watch-long:')).toBe(lineWith(shipped, 'watch-long:'));
    expect(after).not.toContain('watch-for-ever');
    expect(read(after).durations).toEqual(read(made).durations);
  });
});
