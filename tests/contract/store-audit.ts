import { describe, expect, it } from 'vitest';
import { freshState } from '../../src/conversation/state.ts';
import type { Given } from './given.ts';
import {
  answered,
  change,
  coded,
  decided,
  message,
  minute,
  morning,
  phone,
  programmeId,
  question,
  text,
  timer,
} from './store-samples.ts';

/** What every engine promises of erasing and of checking what is stored. */
export function auditContract(given: Given): void {
  describe('audit', () => {
    it('a destroyed key erases the texts and the chain still verifies', async () => {
      await given.openCase('c1', decided, coded('48291354'));
      await given.openCase('c2');
      await given.one(
        change('e', {
          inbound: { address: phone('w1'), personId: 'w1', caseId: 'c1', text: 'hidden', networkAt: null },
          outbox: [message('e:0', 'w1', { caseId: 'c1' })],
          due: [timer('e:d0', 'w1', morning, { caseId: 'c1' })],
          questions: [{ value: question('q1', '47', { caseId: 'c1' }), isNew: true }],
        }),
      );
      expect(await given.store().eraseCase('c1', morning)).toBe(true);
      expect(await given.store().eraseCase('c1', morning)).toBe(false);
      expect(await given.store().messages({ caseId: 'c1' })).toEqual([]);
      expect(await given.store().history('c1')).toEqual([]);
      expect(await given.store().findCase(programmeId, '48291354')).toBeNull();
      expect(await given.store().claimOutbox(morning, 9)).toEqual([]);
      expect((await given.store().dueBefore(morning + 60 * minute, 9)).map((row) => row.caseId)).toEqual(['c2']);
      const found = await given.loaded(text('x', 'd1', '48291354'));
      expect(found).toMatchObject({ cases: [], questions: [], tagsInUse: [] });
      expect(found.briefs.map((row) => row.id)).toEqual(['c2']);
      expect(await given.store().audit()).toEqual({ cases: 2, erased: ['c1'], faults: [] });
    });

    it('an erased person is a stranger, in this store and in the next', async () => {
      await given.one(
        change('e', {
          conversation: { personId: 'w1', state: freshState, version: null },
          inbound: { address: phone('w1'), personId: 'w1', caseId: null, text: 'hidden', networkAt: null },
        }),
      );
      expect(await given.store().erasePerson('w1', morning)).toBe(true);
      expect((await given.loaded(text('x', 'w1', '?'))).person).toBeNull();
      expect(await given.store().messages({ personId: 'w1' })).toEqual([]);
      expect((await given.store().roster(programmeId)).map((row) => row.id)).toEqual(['d1', 'w2']);
    });

    it.each([
      ['a changed instant', 'update case_events set at = at + 1 where sequence = 2', /record 2 was changed/],
      ['a lost record', 'delete from case_events where sequence = 2', /record 2 is missing/],
      ['a lost last record', 'delete from case_events where sequence = 3', /last of its history/],
      ['a changed author', "update case_events set by_id = 'd1' where sequence = 1", /record 1 was changed/],
      ['another status', "update cases set status = 'action'", /status/],
      ['another owner', "update cases set owner_id = 'w2'", /owner/],
    ])('%s is found', async (_what, sql, fault) => {
      await given.openCase('c1', answered, decided);
      expect(await given.store().verify()).toEqual([]);
      await given.database().tamper(sql);
      expect((await given.store().verify()).join('\n')).toMatch(fault);
    });

    it('large instants come back as the numbers they were', async () => {
      const at = 4_102_444_800_123;
      await given.one(change('e', { due: [timer('d', 'w1', at)] }));
      expect(await given.store().nextDueAt()).toBe(at);
      expect((await given.store().dueBefore(at, 1))[0]?.dueAt).toBe(at);
    });

    it('marks stay', async () => {
      expect(await given.store().mark('real')).toBeNull();
      await given.store().setMark('real', 'yes');
      await given.store().setMark('real', 'still');
      expect(await given.store().mark('real')).toBe('still');
    });
  });
}
