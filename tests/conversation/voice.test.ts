import { describe, expect, it } from 'vitest';
import {
  afterPatient,
  afterSampled,
  afterTime,
  afterUnread,
  backToPlain,
  chooseBrief,
  choosePlain,
  isOffered,
  mayBeBrief,
  plainReasons,
  type VoiceKept,
  voiceFor,
} from '../../src/conversation/voice.ts';
import type { Person } from '../../src/conversation/world.ts';

const day = 86_400_000;
const limits = { awayMs: 60 * day, offerAfter: 5, unread: 3 };
const worker = { id: 'p1', roles: ['worker'], shared: false } as unknown as Person;
const brief = chooseBrief(undefined, 100 * day);

describe('the voice of a person', () => {
  it('is plain until a worker chooses brief, and plain again with PLAIN', () => {
    expect(voiceFor(worker, worker, undefined)).toBe('plain');
    expect(voiceFor(worker, worker, brief)).toBe('brief');
    expect(voiceFor(worker, worker, choosePlain(brief))).toBe('plain');
  });

  it('is plain on a shared phone, whatever was chosen before it was shared', () => {
    const shared = { ...worker, shared: true };
    expect(mayBeBrief(shared)).toBe(false);
    expect(voiceFor(shared, shared, brief)).toBe('plain');
  });

  it.each(['doctor', 'lab', 'coordinator'])('is plain for a %s', (role) => {
    const person = { ...worker, roles: [role] } as unknown as Person;
    expect(voiceFor(person, person, brief)).toBe('plain');
  });

  it("is the reader's, never that of the one whose turn it is", () => {
    expect(voiceFor({ ...worker, id: 'p2' }, worker, brief)).toBe('plain');
    expect(voiceFor(worker, null, brief)).toBe('plain');
  });
});

describe('brief', () => {
  it('ends after sixty days without a patient, and not a day before', () => {
    const at = (days: number) => 100 * day + days * day;
    expect(afterTime(brief, at(60) - 1, limits)).toBe(brief);
    expect(afterTime(brief, at(60), limits)).toMatchObject({ because: 'away' });
    const seen = afterPatient(brief, at(20));
    expect(afterTime(seen, at(80) - 1, limits)).toBe(seen);
    expect(afterTime(seen, at(80), limits)).toMatchObject({ because: 'away' });
    // Chosen long after the last patient: it holds from then.
    expect(afterTime(chooseBrief(seen, at(90)), at(91), limits).because).toBeUndefined();
  });

  it.each(plainReasons)('ends with one word why: %s', (because) => {
    const after = backToPlain(brief, because);
    expect(after.briefSince).toBeUndefined();
    expect(after.because).toBe(because);
  });

  it('ends at the third unreadable answer of one case', () => {
    const times = (count: number, of: string, kept: VoiceKept) =>
      Array.from({ length: count }).reduce<VoiceKept>((before) => afterUnread(before, of, limits), kept);
    expect(times(2, 'c1', brief).because).toBeUndefined();
    expect(times(3, 'c1', brief).because).toBe('unread');
    expect(times(2, 'c2', times(2, 'c1', brief)).because).toBeUndefined();
    // Chosen again: counted from the beginning.
    expect(times(2, 'c1', chooseBrief(times(3, 'c1', brief), 200 * day)).because).toBeUndefined();
  });

  it('cannot end where it was not chosen: nothing is said of it', () => {
    for (const because of plainReasons) expect(backToPlain({ sampled: 3 }, because)).toEqual({ sampled: 3 });
    expect(afterUnread(undefined, 'c1', limits)).toEqual({});
    expect(afterTime(undefined, 9999 * day, limits)).toEqual({});
  });

  it('leaves nothing to be said once its owner chose anew', () => {
    expect(choosePlain(backToPlain(brief, 'sos')).because).toBeUndefined();
    expect(chooseBrief(backToPlain(brief, 'sos'), 1).because).toBeUndefined();
  });
});

describe('the offer of shorter texts', () => {
  const sampledBy = (patients: number) =>
    Array.from({ length: patients }).reduce<VoiceKept | undefined>((kept) => afterSampled(kept), undefined);

  it('comes after five sampled patients', () => {
    expect([0, 4, 5, 6].map((count) => isOffered(sampledBy(count), limits))).toEqual([false, false, true, true]);
  });

  it('is not made to whoever found BRIEF before', () => {
    expect(isOffered(chooseBrief(sampledBy(3), 1), limits)).toBe(false);
    expect(isOffered(choosePlain(chooseBrief(sampledBy(7), 1)), limits)).toBe(false);
  });
});
