import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { Clinic, everybody } from '../support/clinic.ts';
import { shipped } from '../support/shipped.ts';

const noFluid = {
  ...shipped.programme,
  laboratories: shipped.programme.laboratories.map((one) => ({ ...one, fluid: 'none' as const })),
};
const mission = {
  ...shipped.programme,
  sites: shipped.programme.sites.map((one) => ({
    ...one,
    hospital: `${one.id} mission`,
    night: `${one.id} mission gate`,
    voiceNumber: `bench:${one.id}`,
  })),
};
const cyst = 'NEW FB 1971 F L 34x25x22 mixed hypo irregular micro TSH normal felt linear signs 0 risks 0 bleeding 0';

let clinic: Clinic;
const code = (): string => clinic.found('w', /CODE (\d{4} \d{4})/).replace(' ', '');

async function toTheNeedle(): Promise<void> {
  await clinic.play(...everybody, `w> ${cyst}`, 'w> 20', 'w> OK', 'w> 1', 'w> 1357H', 'w> ALL', 'w> 50');
  await clinic.play(`w> ${code()}`);
}

async function posted(): Promise<void> {
  await clinic.play('w> 9', 'w> 1', 'w> 7', 'wait 20m', 'w> 1', 'wait 45m', 'w> 3', 'w> 5', `w> POST ${code()}`);
}

afterEach(() => clinic.close());

describe('fluid that the laboratory does not take', () => {
  beforeEach(() => {
    clinic = new Clinic(noFluid);
  });

  it('is smeared and not sent: it takes a pair of slides, and no tube is packed, labelled or received', async () => {
    await toTheNeedle();
    await clinic.play(
      'w> 15',
      'w> 9 ml 3',
      'w< This laboratory takes no fluid. Let it stand upright. Smear what sinks down on slides 1 and 2, fix them wet at once.',
      'w< take a new needle and syringe, slides 3 and 4',
      'w> 21',
      'w> 6666',
      'w<! FLUID 9 ML',
    );
    await posted();
    await clinic.play(
      'l< Fluid was smeared on slides: 9 ml brown.',
      'l<! in a tube',
      'wait 4d',
      `l> GOT ${code()} 4`,
      'l<! FLUID',
    );
    expect(clinic.messages.filter((one) => one.text.includes('tube with the fluid goes along'))).toEqual([]);
  });

  it('goes on slides alone where nothing solid is left, and these are asked for', async () => {
    await toTheNeedle();
    await clinic.play('w> 15', 'w> 9 ml 3', 'w> 26', 'w< one digit for EACH slide', 'w> 6600', 'w<! only the fluid');
    await posted();
    await clinic.play('l< Fluid was smeared on slides: 9 ml brown.');
  });
});

describe('fluid that the laboratory takes', () => {
  beforeEach(() => {
    clinic = new Clinic();
  });

  it('stands in its receipt and in the read-back of its result', async () => {
    await toTheNeedle();
    await clinic.play('w> 15', 'w> 9 ml 3', 'w> 21', 'w> 6600');
    await posted();
    await clinic.play(
      'wait 4d',
      `l> GOT ${code()} 2`,
      'l< 2 slides and FLUID (9 ml brown) in a tube',
      `l> ${code()} Thy1c`,
      'l< L 34x25x22 mm and FLUID (9 ml brown) in a tube',
    );
  });

  it('is received where it came alone, without a slide', async () => {
    await toTheNeedle();
    await clinic.play('w> 15', 'w> 9 ml 3', 'w> 26', 'w< only the fluid goes to the laboratory');
    await clinic.play('w> 1', 'w> 7', 'wait 65m', 'w> 3', 'w> 5', `w> POST ${code()}`, 'wait 4d');
    await clinic.play(`l> GOT ${code()} 0`, 'l< 0 slides and FLUID (9 ml brown) in a tube', 'l<! Nothing was marked');
  });
});

describe('a clinic with places of its own', () => {
  beforeEach(() => {
    clinic = new Clinic(mission);
  });

  it('sends home with its place for the night, and an emergency to its hospital and its number', async () => {
    await toTheNeedle();
    await clinic.play('w> 11', 'w> 6600', 'w> 9', 'w> 1', 'w> 7', 'wait 20m', 'w> 1', 'wait 45m', 'w> 3');
    await clinic.play("w< Write oruma mission gate on the patient's paper");
    await clinic.play('x> NEW', 'x> AK 1982 F', 'x> 1', 'x< To kesu mission NOW, not alone. Call bench:kesu');
  });
});
