/** Questions about people: who they are, where they work, how they are reached. */
import { z } from 'zod';
import { isRole, roles } from '../case/roles.ts';
import { addressForm, addressWords } from './address.ts';
import { answerParts } from './answers.ts';
import { oneMore } from './interview-places.ts';
import { ask, bySchema, listOf, oneOf, type Question } from './question.ts';

/** One person after the other, at least one. */
export function* interviewPeople(
  clinics: readonly string[],
  laboratories: readonly string[],
  languages: readonly string[],
): Generator<Question, readonly unknown[], unknown> {
  const people: unknown[] = [];
  do people.push(yield* interviewPerson(`people.${people.length}`, { clinics, laboratories, languages }));
  while (yield* oneMore(`people.${people.length - 1}`, 'Is there another person?'));
  return people;
}

interface Choices {
  readonly clinics: readonly string[];
  readonly laboratories: readonly string[];
  readonly languages: readonly string[];
}

function* interviewPerson(at: string, { clinics, laboratories, languages }: Choices) {
  const name = yield* ask<string>(
    {
      id: `${at}.name`,
      words: 'Somebody of the programme: what is the name?',
      example: 'Ada Lumo, or Ada Lumo/Beno Sarr for a phone that both use',
      explain:
        'Name the doctors in the order in which they are asked: the first one first. A phone of a clinic or a laboratory that 2 to 8 people share has all their names, with / between them.',
    },
    bySchema(answerParts.person.shape.name),
  );
  const own = yield* ask<readonly string[]>(
    {
      id: `${at}.roles`,
      words: `What do they do (${roles.join(', ')})?`,
      explain:
        'worker: sees patients. doctor: is asked. lab: reads slides. coordinator: keeps the roster. Several with + between them.',
    },
    listOf(z.string().refine(isRole, `one of: ${roles.join(', ')}`), /[\s,;+]+/),
  );
  const isLab = own.includes('lab');
  const places = isLab ? laboratories : clinics;
  const place = yield* ask<string>(
    {
      id: `${at}.${isLab ? 'laboratory' : 'clinic'}`,
      words: `${isLab ? 'At which laboratory' : 'At which clinic'} (${places.join(', ')})?`,
      usual: places[0] ?? null,
      explain: 'Doctors and coordinators are of the whole programme: their clinic gives them its hours.',
    },
    oneOf(places),
  );
  const addresses = yield* ask<readonly string[]>(
    {
      id: `${at}.addresses`,
      words: 'How are they reached?',
      example: '+000555010001, or telegram:invite, or both with a comma between them',
      explain:
        "A phone number with the country's code. telegram:invite: they join on Telegram by a link that you hand over. Their texts go to the first one until they write from the other.",
    },
    (text) => listOf(z.string().regex(addressForm, addressWords))(text.replace(/(^|[\s,;])(?=\+\d)/g, '$1sms:')),
  );
  const language =
    languages.length < 2
      ? languages[0]
      : yield* ask<string>(
          {
            id: `${at}.language`,
            words: `In which language (${languages.join(', ')})?`,
            usual: languages[0]!,
            explain: 'They may change it themselves by the word LANGUAGE.',
          },
          oneOf(languages),
        );
  const shared = name.includes('/') ? { shared: true } : {};
  return { name, roles: own, [isLab ? 'laboratory' : 'clinic']: place, addresses, language, ...shared };
}
