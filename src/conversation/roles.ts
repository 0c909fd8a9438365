/**
 * Who may do and see what, in one place: the words come from the commands themselves, what an act must be proven by from the
 * authority table, and what a code or a list shows from here. `deploy/roles.md` prints it; a test tries every word as everybody.
 */
import { type Role, roles } from '../case/roles.ts';
import { authorities, type Proof } from './authority.ts';
import type { Registry } from './moment.ts';

/** One word that begins a text. */
export interface WordRow {
  readonly word: string;
  readonly by: readonly Role[];
  /** Proof of the word alone; what it begins may ask for more. */
  readonly proof: Proof;
}

/** Every word and who may use it. What is not in it is refused and changes nothing. */
export function wordRows(registry: Registry): readonly WordRow[] {
  const proofs = new Map(authorities.map((one) => [one.at, one.proof]));
  return [...registry.commands]
    .filter(([word]) => word !== 'WORDS')
    .map(([word, command]) => ({
      word,
      by: roles.filter((role) => command.roles.includes(role)),
      proof: proofs.get(word) ?? 'number',
    }))
    .sort((a, b) => (a.word < b.word ? -1 : 1));
}

/** Somebody who is not on the line, or not any more. */
export interface StandingRow {
  readonly who: 'unknown number' | 'invited' | 'stopped' | 'suspended';
  readonly may: string;
  readonly else: string;
}

/** What a phone may do whose person is not joined. Nothing of it changes a case. */
const standingRows: readonly StandingRow[] = [
  {
    who: 'unknown number',
    may: 'SOS: first aid, and the coordinators hear',
    else: 'one of a small daily number of answers: this line is for clinics',
  },
  {
    who: 'invited',
    may: 'JOIN with the number sent to this phone, five tries within 72 h; SOS as an unknown number',
    else: 'as an unknown number',
  },
  {
    who: 'stopped',
    may: 'SOS with all that follows from it; START',
    else: 'once a day: you stopped, SOS, START',
  },
  { who: 'suspended', may: 'SOS: first aid, and the coordinators hear', else: 'this phone is off the line' },
];

/** What somebody is shown of cases. */
export interface SightRow {
  readonly what: 'CASE' | 'LIST' | 'TAKE';
  readonly by: Role;
  readonly shows: string;
}

/** What a code opens and what a list holds. Anything else gets the words for a code that nobody issued. */
export const sightRows: readonly SightRow[] = [
  { what: 'CASE', by: 'worker', shows: 'cases of the own site, whoever began them' },
  { what: 'CASE', by: 'doctor', shows: 'every case of the programme' },
  { what: 'CASE', by: 'lab', shows: 'cases posted to the own laboratory, from posting on' },
  { what: 'CASE', by: 'coordinator', shows: 'every case of the programme' },
  { what: 'LIST', by: 'worker', shows: 'open cases of the own site' },
  { what: 'LIST', by: 'doctor', shows: 'the questions asked of them, then what waits in the programme' },
  { what: 'LIST', by: 'lab', shows: 'nothing: a laboratory works from its parcels' },
  { what: 'LIST', by: 'coordinator', shows: 'what waits in the programme' },
  { what: 'TAKE', by: 'worker', shows: 'an open case of the own site, then theirs' },
  { what: 'TAKE', by: 'doctor', shows: 'a question by its tag, beside those who have it' },
];

const yes = (row: readonly Role[], role: Role): string => (row.includes(role) ? 'yes' : '-');

/** The three tables in Markdown. */
export function rolesText(registry: Registry): string {
  const table = (heading: readonly string[], rows: readonly (readonly string[])[]): string =>
    [heading, heading.map(() => '---'), ...rows].map((row) => `| ${row.join(' | ')} |`).join('\n');
  return [
    table(
      ['word', ...roles, 'proof'],
      wordRows(registry).map((row) => [row.word, ...roles.map((role) => yes(row.by, role)), row.proof]),
    ),
    table(
      ['act', ...roles, 'proof', 'at'],
      authorities.map((row) => [row.action, ...roles.map((role) => yes(row.by, role)), row.proof, row.at]),
    ),
    table(
      ['not joined', 'may', 'anything else gets'],
      standingRows.map((row) => [row.who, row.may, row.else]),
    ),
    table(
      ['shown', 'to', 'what'],
      sightRows.map((row) => [row.what, row.by, row.shows]),
    ),
  ].join('\n\n');
}
