/**
 * The questions of `neckline setup` in their order. What comes out is what the file for `--from` holds: the same schema reads
 * both.
 */
import { z } from 'zod';
import { policyIds } from '../clinical/policies/policy.ts';
import { answerParts } from './answers.ts';
import { interviewLinks } from './interview-links.ts';
import { interviewPeople } from './interview-people.ts';
import { interviewClinics, interviewLaboratories } from './interview-places.ts';
import { ask, bySchema, listOf, numberBy, oneOf, type Question } from './question.ts';
import { shortName } from './short-name.ts';

/** What the terminal knows and the questions do not. */
export interface Known {
  /** Languages that the line speaks, by tag. */
  readonly languages: readonly string[];
  /** Where the files go. */
  readonly folder: string;
  /** Whether this is the name of a time zone. */
  isZone(name: string): boolean;
}

/** All of it, as the file would say it. */
export function* interview(known: Known): Generator<Question, unknown, unknown> {
  const programme = yield* interviewProgramme(known);
  const laboratories = yield* interviewLaboratories();
  const clinics = yield* interviewClinics(laboratories.map(({ id }) => id));
  const people = yield* interviewPeople(
    clinics.map(({ id }) => id),
    laboratories.map(({ id }) => id),
    programme.languages,
  );
  const links = yield* interviewLinks(known.folder);
  const money = yield* interviewMoney();
  return { programme, laboratories, clinics, people, ...links, ...money };
}

function* interviewProgramme(known: Known) {
  const of = answerParts.programme.shape;
  const at = (key: string): string => `programme.${key}`;
  const name = yield* ask<string>(
    {
      id: at('name'),
      words: 'What is the programme called?',
      example: 'Tamboro thyroid line',
      explain:
        'People read this name when somebody asks what the line is. Your district or hospital group is a good one.',
    },
    bySchema(of.name),
  );
  const id = yield* ask<string>(
    {
      id: at('id'),
      words: 'A short name for files and lists?',
      usual: shortName(name),
      explain: 'Small letters, digits and dashes. It marks every record, so it never changes later.',
    },
    bySchema(of.id),
  );
  const zone = yield* ask<string>(
    {
      id: at('zone'),
      words: 'Which time zone?',
      example: 'Africa/Nairobi',
      explain: 'A name of the IANA list: a continent and a city. Reminders by day and dates follow it.',
    },
    (text) =>
      known.isZone(text) ? { ok: true, value: text } : { ok: false, expected: 'a name such as Africa/Nairobi' },
  );
  const policy = yield* ask<string>(
    {
      id: at('policy'),
      words: `Which rule says when a lump is sampled (${policyIds.join(', ')})?`,
      usual: 'common-practice',
      explain:
        'common-practice is the plain rule of poorly equipped sites. The other three are published tables and need a good ultrasound. A clinician decides this. The others are shown to the doctor besides.',
    },
    oneOf(policyIds),
  );
  const languages = yield* ask<readonly string[]>(
    {
      id: at('languages'),
      words: `Which languages (${known.languages.join(', ')})?`,
      usual: 'en',
      explain: 'Several with commas between them. The first one is for everybody who is given no other.',
    },
    listOf(z.enum(known.languages as [string, ...string[]])),
  );
  const hospital = yield* ask<string>(
    {
      id: at('hospital'),
      words: 'Which hospital are patients referred to?',
      example: 'Tamboro Hospital',
      explain: 'At most 36 letters. A clinic that is too far away may have its own; that is asked later.',
    },
    bySchema(of.hospital.max(36, 'at most 36 letters')),
  );
  const night = yield* ask<string>(
    {
      id: at('night'),
      words: 'Where does a patient go at night?',
      usual: hospital,
      example: 'Tamboro Hospital, gate 2',
      explain: 'At most 36 letters. It is said when a patient may get worse at home.',
    },
    bySchema(of.night.max(36, 'at most 36 letters')),
  );
  const voiceNumber = yield* ask<string>(
    {
      id: at('voiceNumber'),
      words: 'Which phone number is answered by a person, day and night?',
      example: '+000555010000',
      explain:
        'With the country. It is given in emergencies, when no doctor answers the line. It is not the number of the line.',
    },
    bySchema(of.voiceNumber),
  );
  return { id, name, zone, policy, languages, hospital, night, voiceNumber };
}

function* interviewMoney() {
  const casesAMonth = yield* ask<number | undefined>(
    {
      id: 'casesAMonth',
      words: 'About how many patients with a lump a month, in all clinics?',
      usual: '10',
      explain: 'Only for the cost that is reckoned at the end.',
    },
    numberBy(answerParts.top.shape.casesAMonth),
  );
  const price = yield* ask<{ readonly currency: string } | undefined>(
    {
      id: 'price',
      words: 'What does one SMS cost: currency, sent by the line, sent to the line?',
      usual: 'not known',
      example: 'EUR 0.04 0.02',
      explain:
        'From the contract with the network. The second figure is 0 where people pay for their texts themselves.',
    },
    readPrice,
  );
  return { ...(casesAMonth === undefined ? {} : { casesAMonth }), ...(price ? { price } : {}) };
}

function readPrice(text: string) {
  if (text.toLowerCase() === 'not known') return { ok: true, value: undefined } as const;
  const [currency = '', out = '', into = ''] = text.replace(/,(?=\d)/g, '.').split(/\s+/);
  const read = answerParts.price.safeParse({
    currency: currency.toUpperCase(),
    perSegmentOut: out === '' ? undefined : Number(out),
    perSegmentIn: into === '' ? undefined : Number(into),
  });
  return read.success && /^[A-Za-z]{3}$/.test(currency)
    ? ({ ok: true, value: read.data } as const)
    : ({ ok: false, expected: 'three letters and two figures, e.g. EUR 0.04 0.02' } as const);
}
