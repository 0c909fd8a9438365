import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { packageRoot } from '../../src/content/load.ts';
import { readProgramme } from '../../src/content/programme.ts';
import { cautionsOf } from '../../src/setup/cautions.ts';
import { programmeText } from '../../src/setup/programme-text.ts';
import { exampleAnswers } from './answers-fixture.ts';

const answers = exampleAnswers();
const source = readFileSync(join(packageRoot, 'flows', 'programme.yaml'), 'utf8');
const before = readProgramme('programme.yaml', programmeText(answers, source, null)).programme!;

describe('what a change means for open cases', () => {
  it('is nothing where a clinic is added or a hospital changed', () => {
    const more = [...answers.clinics, { id: 'pell', name: 'PELL', laboratory: 'velin', guidance: false }];
    const programme = { ...answers.programme, hospital: 'Velin Hospital' };
    expect(cautionsOf(before, { ...answers, programme, clinics: more })).toEqual([]);
  });

  it('is said of a clinic that is left out, of one that sends elsewhere, and of another id', () => {
    const [oruma] = answers.clinics;
    const programme = { ...answers.programme, id: 'norvale' };
    const said = cautionsOf(before, { ...answers, programme, clinics: [{ ...oruma!, laboratory: 'mora' }] });
    expect(said).toHaveLength(3);
    expect(said[0]).toContain('programme.id was tamboro');
    expect(said[1]).toMatch(/oruma sends to mora from now on: parcels on their way to velin stay its own/);
    expect(said[2]).toMatch(/kesu is left out: close its cases first/);
  });
});
