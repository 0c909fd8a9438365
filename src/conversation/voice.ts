/**
 * Which voice a person is texted in. Plain is what everybody gets; brief is chosen by a worker of long practice, and ends by
 * itself where a full sentence is worth more than a short one. Pure: the same state and happening always give the same state.
 */
import type { Voice } from './texts.ts';
import type { Person } from './world.ts';

/** Why brief ended by itself: long without a patient, an alarm, glass that is no use, a result that says nothing, unread answers. */
export const plainReasons = ['away', 'sos', 'bad', 'thy1', 'unread'] as const;
export type PlainReason = (typeof plainReasons)[number];

/** What a conversation keeps of it; absent = plain, and nothing counted yet. */
export interface VoiceKept {
  /** Since when brief was chosen, ms; absent = plain. */
  readonly briefSince?: number;
  /** When something was last done for a patient in brief, ms. */
  readonly patientAt?: number;
  /** Patients in whom a needle of this worker went in; practice is none. */
  readonly sampled?: number;
  /** Was told once that there are shorter texts, or knows it, having asked for them. */
  readonly offered?: true;
  /** Brief ended and that was not said yet. */
  readonly because?: PlainReason;
  /** Answers that could not be read, in the matter named by its case or thread. */
  readonly unread?: { readonly of: string; readonly count: number };
}

/** Limits of the programme: ms, patients, answers. */
export interface VoiceLimits {
  readonly awayMs: number;
  readonly offerAfter: number;
  readonly unread: number;
}

/** Who may choose: a worker on a phone of their own. Texts of doctors, laboratories and coordinators are plain. */
export function mayBeBrief(person: Person): boolean {
  return person.roles.includes('worker') && !person.shared;
}

/** The voice of the texts to a person in somebody's turn. Of others than whose turn it is nothing is known: plain. */
export function voiceFor(person: Person, whose: Person | null, kept: VoiceKept | undefined): Voice {
  return person.id === whose?.id && kept?.briefSince !== undefined && mayBeBrief(person) ? 'brief' : 'plain';
}

/** BRIEF was sent. */
export function chooseBrief(kept: VoiceKept = {}, now: number): VoiceKept {
  const { because: _said, unread: _read, ...rest } = kept;
  return { ...rest, briefSince: now, offered: true };
}

/** PLAIN was sent: nothing is left to say about it. */
export function choosePlain(kept: VoiceKept = {}): VoiceKept {
  const { because: _said, ...rest } = backToPlain(kept, 'away');
  return rest;
}

/** Brief ends by itself; who is texted in plain stays so, and hears nothing. */
export function backToPlain(kept: VoiceKept = {}, because: PlainReason): VoiceKept {
  const { briefSince, patientAt: _at, unread: _read, ...rest } = kept;
  return briefSince === undefined ? rest : { ...rest, because };
}

/** Time passed. */
export function afterTime(kept: VoiceKept = {}, now: number, { awayMs }: VoiceLimits): VoiceKept {
  const { briefSince, patientAt = 0 } = kept;
  if (briefSince === undefined || now - Math.max(briefSince, patientAt) < awayMs) return kept;
  return backToPlain(kept, 'away');
}

/** Something was done for a patient. */
export function afterPatient(kept: VoiceKept = {}, now: number): VoiceKept {
  return kept.briefSince === undefined ? kept : { ...kept, patientAt: now };
}

/** An answer could not be read. `of`: the case, or the conversation before there is one. */
export function afterUnread(kept: VoiceKept = {}, of: string, { unread }: VoiceLimits): VoiceKept {
  if (kept.briefSince === undefined) return kept;
  const count = (kept.unread?.of === of ? kept.unread.count : 0) + 1;
  return count >= unread ? backToPlain(kept, 'unread') : { ...kept, unread: { of, count } };
}

/** A needle of this worker went into a patient for the first time. */
export function afterSampled(kept: VoiceKept = {}): VoiceKept {
  return { ...kept, sampled: (kept.sampled ?? 0) + 1 };
}

/** True: it is time to say once that there are shorter texts. */
export function isOffered(kept: VoiceKept = {}, { offerAfter }: VoiceLimits): boolean {
  return kept.offered !== true && (kept.sampled ?? 0) >= offerAfter;
}
