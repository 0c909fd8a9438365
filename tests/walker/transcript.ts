/** All that was said and recorded of one sitting, in order: what the invariants read. */
import type { Case, Specimen } from '../../src/case/case.ts';
import type { CaseRecord } from '../../src/case/events.ts';
import type { Programme } from '../../src/conversation/programme.ts';
import type { Person } from '../../src/conversation/world.ts';
import type { OutboundMessage } from '../../src/line/ports.ts';
import type { Side } from './lump.ts';
import type { Truth } from './truth.ts';

export type Ask = NonNullable<OutboundMessage['ask']>;
export type Role = 'worker' | 'doctor' | 'lab' | 'coordinator';

/** How a reply was meant: rightly, or as a slip. */
export type Slip = 'none' | 'unreadable' | 'doubled' | 'back' | 'word' | 'alarm';

/** Somebody of the walker sent a text. */
export interface Sent {
  readonly kind: 'sent';
  readonly at: number;
  readonly by: string;
  readonly role: Role;
  readonly text: string;
  /** The question that stood last on this phone. */
  readonly ask: Ask | null;
  readonly askStep: string;
  readonly caseId: string | null;
  /** Ids of the options that the reply names, or `exit.` with the exit; empty for free answers. */
  readonly ids: readonly string[];
  readonly slip: Slip;
}

/** The line said something. */
export interface Said {
  readonly kind: 'said';
  readonly at: number;
  readonly to: string;
  readonly role: Role;
  readonly text: string;
  readonly segments: number;
  readonly flow: string;
  readonly step: string;
  readonly caseId: string | null;
  readonly code: string | null;
  readonly ask: Ask | null;
}

/** The line recorded something. `cause`: index of the text that caused it, -1 = a due row. */
export interface Recorded {
  readonly kind: 'recorded';
  readonly at: number;
  readonly caseId: string;
  readonly record: CaseRecord;
  readonly after: Case;
  /** Who sent the text that caused it, `line` for a due row. */
  readonly by: string;
}

export type Entry = Sent | Said | Recorded;

/** One case that was walked, with the entries of its sitting that concern it. */
export interface Walked {
  /** Seed of the batch and number in it: `WALKER_SEED`. */
  readonly seed: number;
  readonly number: number;
  readonly truth: Truth;
  readonly of: Case;
  /** Of this case, what its worker sent, and what was asked on the same phones about others. */
  readonly entries: readonly Entry[];
  readonly guidance: boolean;
  /** The programme as its people chose it. */
  readonly programme: Programme;
  readonly endedAt: number;
  /** What was said of it and was not so; of the first case also what was said of none. */
  readonly untrue: readonly string[];
  /** Everybody of the programme as they stand at the end, those off the line too. */
  readonly roster: readonly Person[];
}

/** What a specimen is of: side, sizes, kind. Nulls where the record has none. */
export interface TargetFacts {
  readonly kind: 'nodule' | 'node';
  readonly side: Side | null;
  readonly mm: readonly number[];
  readonly nodule: string | null;
}

/** Side and size of a specimen by the record alone. */
export function targetFacts(of: Case, specimen: Specimen): TargetFacts {
  const { target, nodule } = specimen as unknown as {
    readonly target?: { kind: 'nodule' | 'node'; side?: Side; mm?: readonly number[]; nodule?: string | null };
    readonly nodule?: string;
  };
  if (target)
    return { kind: target.kind, side: target.side ?? null, mm: target.mm ?? [], nodule: target.nodule ?? null };
  const site = of.answers[`${nodule}.site`];
  const mm = of.answers[`${nodule}.mm`];
  const side = site === 'right' || site === 'left' || site === 'isthmus' ? site : null;
  return {
    kind: 'nodule',
    side,
    mm: Array.isArray(mm) ? mm.filter((one): one is number => typeof one === 'number') : [],
    nodule: nodule ?? null,
  };
}

/** The transcript as people read it. */
export function readable(entries: readonly Entry[]): string {
  return entries.map((one) => `${new Date(one.at).toISOString().slice(0, 16)} ${lineOf(one)}`).join('\n');
}

function lineOf(one: Entry): string {
  if (one.kind === 'sent') return `${one.by}> ${one.text}${one.slip === 'none' ? '' : ` (${one.slip})`}`;
  if (one.kind === 'said') return `${one.to}< [${one.flow}.${one.step}] ${one.text.replaceAll('\n', ' / ')}`;
  return `  = ${JSON.stringify(one.record.event).slice(0, 300)}`;
}
