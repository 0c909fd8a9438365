/** The roster of the answers, as `roster import` takes it. */

import { addressParts, isInvited } from './address.ts';
import type { Answers, PersonAnswers } from './answers.ts';

const header = 'name,roles,channel,address,site,locale';

/** A roster and, line by line, whose of the answers it is. */
export interface RosterText {
  readonly text: string;
  /** Index in the answers of the person on each line; line 2 is the first. */
  readonly people: readonly number[];
}

/**
 * People in the order of the answers, so that the first doctor is the first of the ladder. Whoever is only to be invited has
 * no line: there is no address yet.
 */
export function rosterText(answers: Answers): RosterText {
  const rows = answers.people.flatMap((person, index) => {
    const addresses = person.addresses.filter((one) => !isInvited(one)).map(addressParts);
    return addresses.length === 0 ? [] : [{ index, line: rowOf(answers, person, addresses) }];
  });
  return {
    text: `${[header, ...rows.map(({ line }) => line)].join('\n')}\n`,
    people: rows.map(({ index }) => index),
  };
}

function rowOf(answers: Answers, person: PersonAnswers, addresses: readonly ReturnType<typeof addressParts>[]): string {
  return [
    person.name,
    [...person.roles, ...(person.shared ? ['shared'] : [])].join('+'),
    // Several addresses of one person: the first is where texts go until they write from another.
    addresses.map(({ channel }) => channel).join('|'),
    addresses.map(({ address }) => address).join('|'),
    placeOf(answers, person),
    person.language ?? answers.programme.languages[0]!,
  ]
    .map(cell)
    .join(',');
}

/** Doctors and coordinators are of the whole programme; the first clinic gives them its hours and its numbers. */
export function placeOf(answers: Answers, person: PersonAnswers): string {
  return person.laboratory ?? person.clinic ?? answers.clinics[0]!.id;
}

function cell(text: string): string {
  return /[",;\t\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
