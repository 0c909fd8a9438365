/** Rows as the statements give and take them, and the columns they are made of. */
import type { CasesTable, DueTable, MessagesTable, PeopleTable, QuestionsTable } from './schema.ts';
import { slot } from './statement.ts';

/** A person with key and conversation, as one row. */
export interface PersonRow extends PeopleTable {
  wrapped: Buffer | null;
  destroyed_at: number | null;
  conversation_version: number | null;
  conversation_sealed: Buffer | null;
}

export interface CaseRow extends Pick<CasesTable, 'id' | 'version' | 'fold_sealed'>, CaseHead {
  wrapped: Buffer | null;
  destroyed_at: number | null;
}

export interface BriefRow
  extends Pick<CasesTable, 'id' | 'codes' | 'site_id' | 'owner_id' | 'status' | 'due_at' | 'tag_sealed' | 'version'> {
  wrapped: Buffer | null;
  destroyed_at: number | null;
}

export interface QuestionRow extends QuestionsTable {
  wrapped: Buffer | null;
  destroyed_at: number | null;
}

export interface InvitationRow {
  id: string;
  programme_id: string;
  person_id: string;
  valid_until: number;
  wrong_tries: number;
  used: number;
  sealed: Buffer;
}

export const messageColumns = [
  'id',
  'programme_id',
  'direction',
  'at',
  'person_id',
  'case_id',
  'recipient',
  'status',
  'lane',
  'not_before',
  'valid_until',
  'tries',
  'safety',
  'segments',
  'network_at',
  'key_id',
  'sealed',
  'channel',
  'place',
  'subject',
] as const;
export type NewMessage = Omit<Pick<MessagesTable, (typeof messageColumns)[number]>, 'place'> & { place: number };

export const dueColumns = [
  'id',
  'programme_id',
  'person_id',
  'case_id',
  'name',
  'frame_id',
  'due_at',
  'wait',
  'timer',
  'key_id',
  'sealed',
] as const;
export type NewDue = Pick<DueTable, (typeof dueColumns)[number]>;

export const questionColumns = [
  'id',
  'programme_id',
  'case_id',
  'tag',
  'now',
  'asked_by',
  'opened_at',
  'rung',
  'asked_of',
  'answered_at',
  'answered_by',
  'promise_until',
  'key_id',
  'sealed',
] as const;

export const caseColumns = [
  'id',
  'programme_id',
  'site_id',
  'owner_id',
  'status',
  'open',
  'opened_at',
  'due_at',
  'wake_at',
  'version',
  'sequence',
  'codes',
  'patient_mark',
  'earlier_id',
  'head',
  'tag_sealed',
  'fold_sealed',
] as const;
/** Columns that lists look at: written, with their indexes, only when one of them changed. */
export const listedCaseColumns = [
  'site_id',
  'owner_id',
  'status',
  'open',
  'codes',
  'patient_mark',
  'earlier_id',
] as const;
export type CaseHead = Pick<CasesTable, 'head' | 'sequence' | (typeof listedCaseColumns)[number]>;
export type NewCase = Pick<CasesTable, (typeof caseColumns)[number]>;

export const caseEventColumns = [
  'case_id',
  'sequence',
  'programme_id',
  'at',
  'by_id',
  'event_id',
  'flow',
  'previous',
  'hash',
  'sealed',
] as const;

/** A slot for each column. */
export function slots<const Names extends readonly string[]>(names: Names): Record<Names[number], never> {
  return Object.fromEntries(names.map((name) => [name, slot(name)])) as Record<Names[number], never>;
}
