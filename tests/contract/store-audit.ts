import { describe, expect, it } from 'vitest';
import { freshState } from '../../src/conversation/state.ts';
import type { Given } from './given.ts';
import {
  answered,
  change,
  closedNow,
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
      // The tag says nothing of the patient, and rests for a day.
      expect(found).toMatchObject({ cases: [], questions: [], tagsInUse: ['47'] });
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
      expect((await given.store().roster(programmeId)).map((row) => row.name)).toContain('Person w1');
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
      [
        "another person's key",
        "update data_keys set wrapped = (select wrapped from data_keys where id = 'person:w2') where id = 'person:w1'",
        /person:w1: its key does not open/,
      ],
      [
        "another person's name",
        "update people set sealed = (select sealed from people where id = 'w2') where id = 'w1'",
        /person w1: does not open beside roles, site and standing/,
      ],
      ["another person's address", "update addresses set person_id = 'w2'", /person w2: an address that is not theirs/],
      ['an address taken away', 'delete from addresses', /person w1: an address of theirs leads to nobody/],
      ['a timer taken away', 'delete from due', /due: its rows are not what the line wrote/],
      ['a text taken away', 'delete from messages', /messages: its rows are not what the line wrote/],
      ['a duty put off', 'update cases set wake_at = null', /cases: its rows are not what the line wrote/],
    ])('%s is found', async (_what, sql, fault) => {
      await given.openCase('c1', answered, decided);
      await given.one(change('said', { due: [timer('said:d0', 'w1', morning)], outbox: [message('said:0', 'w1')] }));
      expect(await given.store().verify()).toEqual([]);
      await given.database().tamper(sql);
      expect((await given.store().verify()).join('\n')).toMatch(fault);
    });

    it('closed cases that nothing happened to for long are overdue; open, young and erased ones are not', async () => {
      const day = 24 * 60 * minute;
      const over = (before: number) => given.store().overdueCases(programmeId, before);
      await given.openCase('c1', closedNow);
      await given.openCase('c2', decided);
      await given.openCase('c3', closedNow);
      expect(await over(morning)).toEqual({ ids: [], kept: 3 });
      expect(await over(morning + day)).toEqual({ ids: ['c1', 'c3'], kept: 3 });
      expect(await given.store().overdueCases('other', morning + day)).toEqual({ ids: [], kept: 0 });
      await given.one(change('r', { due: [timer('review', 'w1', morning + 400 * day, { caseId: 'c3' })] }));
      expect((await over(morning + day)).ids).toEqual(['c1']);
      await given.store().eraseCase('c1', morning + day, 'kept-long-enough');
      expect(await over(morning + day)).toEqual({ ids: [], kept: 2 });
    });

    it('old texts of no case are dropped; those of cases and those that still have to go out are not', async () => {
      await given.openCase('c1');
      const inbound = { address: phone('w1'), personId: 'w1', networkAt: null };
      await given.one(change('a', { inbound: { ...inbound, caseId: null, text: 'of none' } }));
      await given.one(change('b', { inbound: { ...inbound, caseId: 'c1', text: 'of c1' } }));
      await given.one(change('c', { outbox: [message('waits', 'w1')] }));
      await given.one({
        ...change('d', { inbound: { ...inbound, caseId: null, text: 'young' } }),
        at: morning + 2 * minute,
      });
      expect(await given.store().dropTexts(morning)).toBe(0);
      expect(await given.store().dropTexts(morning + minute)).toBe(1);
      const left = await given.store().messages({ personId: 'w1' });
      expect(left.map((row) => row.text)).toEqual(['of c1', 'words of waits', 'young']);
      expect(await given.store().verify()).toEqual([]);
      // What was heard once is still known, so that an old text sent again changes nothing.
      expect((await given.loaded(text('a', 'w1', 'of none'))).duplicate).toBe(true);
    });

    it('a head is taken anew only when the last one is old enough', async () => {
      await given.openCase('c1');
      const first = await given.store().dailyHead(morning, minute);
      expect(await given.store().dailyHead(morning + minute - 1, minute)).toEqual(first);
      const second = await given.store().dailyHead(morning + minute, minute);
      expect([second.number, second.cases]).toEqual([2, 0]);
      expect((await given.store().verifyHeads()).faults).toEqual([]);
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
