/** Questions about laboratories and clinics. */

import { z } from 'zod';
import { systemNames } from '../clinical/cytology/categories.ts';
import { fluidWays } from '../clinical/fluid.ts';
import { laboratoryStains } from '../clinical/supplies.ts';
import { alcoholWays, assays } from '../conversation/programme.ts';
import { answerParts } from './answers.ts';
import { ask, bySchema, listOf, numberBy, oneOf, type Question, yesOrNo } from './question.ts';
import { shortName } from './short-name.ts';

interface Identified {
  readonly id: string;
}

/** One laboratory after the other, at least one. */
export function* interviewLaboratories(): Generator<Question, readonly Identified[], unknown> {
  const all: Identified[] = [];
  do all.push(yield* interviewLaboratory(`laboratories.${all.length}`));
  while (yield* oneMore(`laboratories.${all.length - 1}`, 'Is there another laboratory?'));
  return all;
}

/** One clinic after the other, at least one; each sends to one of these laboratories. */
export function* interviewClinics(
  laboratories: readonly string[],
): Generator<Question, readonly Identified[], unknown> {
  const all: Identified[] = [];
  do all.push(yield* interviewClinic(`clinics.${all.length}`, laboratories));
  while (yield* oneMore(`clinics.${all.length - 1}`, 'Is there another clinic?'));
  return all;
}

/** Whether one more of a kind follows. */
export function* oneMore(id: string, words: string): Generator<Question, boolean, unknown> {
  const explain = 'More can be added later: answer no now, run setup again then.';
  return yield* ask<boolean>({ id: `${id}.more`, words, usual: 'no', explain }, yesOrNo);
}

function* interviewLaboratory(at: string) {
  const of = answerParts.laboratory.shape;
  const name = yield* ask<string>(
    {
      id: `${at}.name`,
      words: 'A laboratory that looks at the slides: what is it called?',
      example: 'Lab Velin',
      explain: 'As workers know it: it stands in their texts.',
    },
    bySchema(of.name),
  );
  const id = yield* ask<string>(
    {
      id: `${at}.id`,
      words: `A short name of ${name} for lists?`,
      usual: shortName(name),
      explain: 'Small letters, digits and dashes. It stays when the name changes.',
    },
    bySchema(of.id),
  );
  const address = yield* ask<string>(
    {
      id: `${at}.address`,
      words: `Where are parcels for ${name} sent?`,
      example: 'Box 7, Velin',
      explain: 'The address that is written on the parcel.',
    },
    bySchema(of.address),
  );
  const stain = yield* ask<string>(
    {
      id: `${at}.stain`,
      words: `Which slides does it want (${laboratoryStains.join(', ')})?`,
      explain:
        'wet: put into alcohol at once, never dried. dried: dried in the air at once. both: some of each. Ask the laboratory.',
    },
    oneOf(laboratoryStains),
  );
  const slides = yield* ask<number>(
    {
      id: `${at}.slides`,
      words: 'How many slides from each lump?',
      usual: '4',
      explain: 'From 1 to 9. Common practice has 3 as its floor.',
    },
    numberBy(of.slides.min(1, 'from 1 to 9').max(9, 'from 1 to 9')),
  );
  const alcohol = yield* ask<string>(
    {
      id: `${at}.alcohol`,
      words: `What becomes of slides after their time in alcohol (${alcoholWays.join(', ')})?`,
      usual: 'stay-in-alcohol',
      explain:
        'stay-in-alcohol: they travel in it. coat: a spray coat, then they travel dry. glycerine: two drops and a clean slide on top. dry-agreed: they dry, only where the laboratory agreed to that.',
    },
    oneOf(alcoholWays),
  );
  const fluid = yield* ask<string>(
    {
      id: `${at}.fluid`,
      words: `What does it want fluid of a cyst in (${fluidWays.join(', ')})?`,
      usual: 'ask',
      explain:
        'plain: a clean dry tube, kept cold. equal-alcohol: as much alcohol of 50 % as there is fluid. none: it takes no fluid. ask: nobody has asked it yet.',
    },
    oneOf(fluidWays),
  );
  const system = yield* ask<string>(
    {
      id: `${at}.system`,
      words: `Which system does it report in (${Object.values(systemNames).join(', ')})?`,
      usual: 'Thy',
      explain: 'Thy: the British one. Bethesda: the American one. TIR: the Italian one.',
    },
    oneOf(Object.values(systemNames)),
  );
  const tests = yield* ask<readonly string[]>(
    {
      id: `${at}.assays`,
      words: `What does it test besides (${assays.join(', ')}, none)?`,
      usual: 'none',
      explain: 'Tests on the rinse of a needle or on blood. Nothing is asked of a laboratory that does not do it.',
    },
    (text) => (text.toLowerCase() === 'none' ? { ok: true, value: [] } : listOf(z.enum(assays))(text)),
  );
  const open = yield* ask<readonly number[]>(
    {
      id: `${at}.open`,
      words: 'On which days is it open (1 = Monday, 7 = Sunday)?',
      usual: '1 2 3 4 5',
      explain: 'Parcels and results are expected on these days.',
    },
    listOf(z.coerce.number().pipe(of.open.element)),
  );
  const marking = yield* ask<string>(
    {
      id: `${at}.marking`,
      words: 'How is a parcel with alcohol marked?',
      usual: 'mark as your carrier told you',
      explain:
        'What your carrier or your law wants on the outside. The worker is reminded of it when the parcel is made.',
    },
    bySchema(of.marking),
  );
  return { id, name, address, stain, slides, alcohol, fluid, system, assays: tests, open, marking };
}

function* interviewClinic(at: string, laboratories: readonly string[]) {
  const of = answerParts.clinic.shape;
  const name = yield* ask<string>(
    {
      id: `${at}.name`,
      words: 'A clinic where patients are seen: what is it called?',
      example: 'ORUMA CLINIC',
      explain: 'It stands on the label of every slide and in the texts of doctors and laboratories.',
    },
    bySchema(of.name),
  );
  const id = yield* ask<string>(
    {
      id: `${at}.id`,
      words: `A short name of ${name} for lists?`,
      usual: shortName(name),
      explain: 'Small letters, digits and dashes. Its patients are kept under it, so it never changes later.',
    },
    bySchema(of.id),
  );
  const laboratory = yield* ask<string>(
    {
      id: `${at}.laboratory`,
      words: `Which laboratory does it send to (${laboratories.join(', ')})?`,
      usual: laboratories[0] ?? null,
      explain: 'The short name of one of the laboratories that you named.',
    },
    oneOf(laboratories),
  );
  const guidance = yield* ask<boolean>(
    {
      id: `${at}.guidance`,
      words: 'Can it use ultrasound while the needle is in (yes, no)?',
      explain: 'With no, a lump that nobody can feel is sent elsewhere.',
    },
    yesOrNo,
  );
  const isFar = yield* ask<boolean>(
    {
      id: `${at}.far`,
      words: 'Has it a hospital, a place for the night or a phone number of its own (yes, no)?',
      usual: 'no',
      explain: "With no, its patients go where the programme's go.",
    },
    yesOrNo,
  );
  if (!isFar) return { id, name, laboratory, guidance };
  const own: Record<string, string> = {};
  const explain = 'Empty: as the programme.';
  const wanted = [
    ['hospital', 'Its hospital?', of.hospital.unwrap().max(36, 'at most 36 letters').optional()],
    ['night', 'Its place to go at night?', of.night.unwrap().max(36, 'at most 36 letters').optional()],
    ['voiceNumber', 'Its number that a person answers?', of.voiceNumber],
  ] as const;
  for (const [key, words, schema] of wanted) {
    const value = yield* ask<string | undefined>({ id: `${at}.${key}`, words, usual: '', explain }, bySchema(schema));
    if (value !== undefined) own[key] = value;
  }
  return { id, name, laboratory, guidance, ...own };
}
