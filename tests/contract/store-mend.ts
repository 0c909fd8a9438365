import { describe, expect, it } from 'vitest';
import { freshState } from '../../src/conversation/state.ts';
import type { Given } from './given.ts';
import {
  answered,
  change,
  dueEvent,
  message,
  minute,
  morning,
  programmeId,
  question,
  setAside,
  stateOn,
  text,
  timer,
} from './store-samples.ts';

const later = morning + 60 * minute;

/** What every engine promises where something does not open, was erased, or cannot be handled. */
export function mendContract(given: Given): void {
  const talks = (personId: string, caseId: string | null) => ({
    personId,
    state: caseId === null ? freshState : stateOn(caseId, 'm:0'),
    version: null,
  });
  const due = async () => (await given.store().dueBefore(later, 99)).filter((row) => row.name === 'mend');

  /** Worker w1 is busy with c1 and was told of it; d1 was told of it too; w2 was not. */
  async function busy(): Promise<void> {
    await given.openCase('c1', answered);
    await given.one(change('a', { conversation: talks('w1', 'c1'), outbox: [message('a:0', 'w1', { caseId: 'c1' })] }));
    await given.one(change('b', { conversation: talks('d1', null), outbox: [message('b:0', 'd1', { caseId: 'c1' })] }));
    await given.one(change('c', { conversation: talks('w2', null), outbox: [message('c:0', 'w2')] }));
  }

  describe('what does not open', () => {
    it('erasing leaves an event for everybody who was told of the case, in the same transaction', async () => {
      await busy();
      await given.store().eraseCase('c1', morning);
      expect((await due()).map((row) => [row.personId, row.caseId, row.what])).toEqual([
        ['d1', null, { kind: 'mend', caseId: 'c1', freshBy: null }],
        ['w1', null, { kind: 'mend', caseId: 'c1', freshBy: null }],
      ]);
      expect(await given.store().verify()).toEqual([]);
      const found = await given.loaded(dueEvent((await due())[1]!));
      expect(found.lost).toEqual({ cases: [{ id: 'c1', why: 'erased' }], questions: [], conversation: false });
    });

    it('a pointer that an earlier version left is found, and mended by an event', async () => {
      await busy();
      await given.store().eraseCase('c1', morning);
      await given.database().tamper("delete from due where name = 'mend'");
      await given.store().takeStock();
      expect(await given.store().verify()).toEqual([
        'conversation of w1: names c1, which is not there; the line mends this at its next start',
      ]);
      expect(await given.store().mendSome('', morning)).toEqual({ mended: 1, last: null });
      expect((await due()).map((row) => row.personId)).toEqual(['w1']);
      expect(await given.store().verify()).toEqual([]);
      expect(await given.store().mendSome('', morning + 1)).toEqual({ mended: 0, last: null });
    });

    it('rows and open questions of a case that is not there are found and go', async () => {
      await given.openCase('c1', answered);
      await given.store().eraseCase('c1', morning);
      await given.one(change('r', { due: [timer('r:d0', 'w1', morning, { caseId: 'c1' })] }));
      await given.one(change('s', { due: [timer('s:d0', 'w1', morning, { caseId: 'never' })] }));
      await given.one(change('q', { questions: [{ value: question('q1', '47'), isNew: true }] }));
      await given.database().tamper("update questions set case_id = 'c1' where id = 'q1'");
      await given.store().takeStock();
      expect((await given.store().verify()).filter((fault) => fault.includes('mends'))).toEqual([
        '2 due rows are of cases that are not there; the line mends this at its next start',
        '1 open questions are of cases that are not there; the line mends this at its next start',
      ]);
      expect((await given.store().mendSome('', morning)).mended).toBe(3);
      expect((await given.store().verify()).filter((fault) => fault.includes('mends'))).toEqual([]);
    });

    it('a fold of other bytes is made anew from the history and goes on', async () => {
      const { value } = await given.openCase('c1', answered);
      await given.one(change('a', { conversation: talks('w1', 'c1') }));
      await given.openCase('c2');
      const other = "(select fold_sealed from cases where id = 'c2')";
      await given.database().tamper(`update cases set fold_sealed = ${other} where id = 'c1'`);
      await given.reopen();
      const found = await given.loaded(text('x', 'w1', '?'));
      expect(found.cases).toEqual([{ value, version: 1 }]);
      expect(found.lost.cases).toEqual([]);
    });

    it('a case without a record that opens is left out and named; its person is read all the same', async () => {
      await given.openCase('c1', answered);
      await given.one(change('a', { conversation: talks('w1', 'c1') }));
      await given.openCase('c2');
      await given
        .database()
        .tamper("update cases set fold_sealed = (select fold_sealed from cases where id = 'c2') where id = 'c1'");
      await given.database().tamper("update case_events set sequence = 9 where case_id = 'c1' and sequence = 2");
      await given.reopen();
      const found = await given.loaded(text('x', 'w1', '?'));
      expect([found.person?.id, found.cases]).toEqual(['w1', []]);
      expect(found.lost.cases).toEqual([{ id: 'c1', why: 'damaged' }]);
    });

    it('a conversation of other bytes begins anew in its place', async () => {
      await given.one(change('a', { conversation: talks('w1', null) }));
      await given.one(change('b', { conversation: talks('w2', null) }));
      const other = "(select sealed from conversations where person_id = 'w2')";
      await given.database().tamper(`update conversations set sealed = ${other} where person_id = 'w1'`);
      await given.reopen();
      const found = await given.loaded(text('x', 'w1', '?'));
      expect(found.lost.conversation).toBe(true);
      expect(found.conversation).toEqual({ state: freshState, version: 1 });
      const next = { personId: 'w1', state: freshState, version: 1 };
      expect(await given.one(change('n', { conversation: next }))).toBe('committed');
      expect((await given.loaded(text('y', 'w1', '?'))).lost.conversation).toBe(false);
    });

    it('a due row of other bytes becomes a word to the coordinators and stops no other row', async () => {
      const tell = { kind: 'tell', key: 'common.copies', caseId: null, item: null, vars: {}, lane: 'notice' } as const;
      const row = (id: string) => timer(id, 'w1', morning, { what: tell, name: 'tell' });
      await given.one(change('a', { due: [row('d1'), row('d2')] }));
      await given.database().tamper("update due set sealed = (select sealed from due where id = 'd2') where id = 'd1'");
      expect((await given.store().dueBefore(morning, 9)).map((one) => [one.id, one.personId, one.what])).toEqual([
        ['d1', null, { kind: 'trouble', key: 'due-lost', vars: {} }],
        ['d2', 'w1', tell],
      ]);
    });

    it('a text of other bytes holds back no other text', async () => {
      await given.one(change('a', { outbox: [message('m1', 'w1'), message('m2', 'w2')] }));
      await given
        .database()
        .tamper("update messages set sealed = (select sealed from messages where id = 'm2') where id = 'm1'");
      expect((await given.store().claimOutbox(morning, 9)).map((one) => one.message.id)).toEqual(['m2']);
    });
  });

  describe('an event that cannot be handled', () => {
    it('is kept under a key that can be written, also when its case or its person was erased', async () => {
      await given.openCase('c1');
      await given.store().eraseCase('c1', morning);
      await given.store().erasePerson('w1', morning);
      const events = [
        dueEvent(timer('x', 'w2', morning, { caseId: 'c1' })),
        dueEvent(timer('y', 'w1', morning)),
        text('z', 'w1', 'SOS'),
      ];
      for (const event of events) expect(await given.one(setAside(event))).toBe('committed');
      expect((await given.store().parked()).map((one) => [one.id, one.personId])).toEqual([
        ['x', 'w2'],
        ['y', 'w1'],
        ['z', null],
      ]);
    });

    it('is kept once, with its answer, however often its provider delivers it', async () => {
      const kept = setAside(text('t', 'w1', 'LIST'), { outbox: [message('t:f1', 'w1')] });
      expect(await given.one(kept)).toBe('committed');
      expect(await given.one(kept)).toBe('duplicate');
      expect((await given.loaded(text('t', 'w1', 'LIST'))).duplicate).toBe(true);
      expect((await given.store().claimOutbox(morning, 9)).map((one) => one.message.id)).toEqual(['t:f1']);
      expect(await given.store().wereTaken(programmeId, ['t', 'other'])).toEqual([true, false]);
    });

    it('is known by its open columns: whose phone, which clinic, an alarm, how many wait', async () => {
      await given.openCase('c1');
      const alarm = question('q1', '47', { caseId: 'c1', urgency: 'now', askedBy: 'w2' });
      await given.one(change('q', { questions: [{ value: alarm, isNew: true }] }));
      const ask = { kind: 'ask-doctor', questionId: 'q1', rung: 0 } as const;
      await given.database().tamper("update people set sealed = (select sealed from people where id = 'w2')");
      await given.reopen();
      const bare = (event: Parameters<ReturnType<Given['store']>['bare']>[0]) => given.store().bare(event);
      expect(await bare(text('t', 'w1', 'SOS'))).toEqual({
        person: { id: 'w1', siteId: 'hill', locale: 'en', state: 'joined' },
        clinic: null,
        alarm: false,
        parked: 0,
      });
      expect((await bare(text('t', 'nobody', 'SOS'))).person).toBeNull();
      const asked = await bare(dueEvent(timer('d', 'd1', morning, { what: ask })));
      expect(asked).toMatchObject({ clinic: { personId: 'w2', siteId: 'hill' }, alarm: true });
      expect((await bare(dueEvent(timer('e', 'w2', morning)))).alarm).toBe(true);
      expect((await bare(dueEvent(timer('f', 'w1', morning)))).alarm).toBe(false);
      await given.one(setAside(text('p', 'w1', 'LIST')));
      expect((await bare(text('t', 'w1', 'SOS'))).parked).toBe(1);
    });

    it('takes somebody off the line by open columns alone', async () => {
      await given
        .database()
        .tamper("update people set sealed = (select sealed from people where id = 'w2') where id = 'w1'");
      await given.reopen();
      expect(await given.one(change('s', { people: [{ kind: 'leave', personId: 'w1' }] }))).toBe('committed');
      const roster = await given.store().roster(programmeId);
      expect(roster.map((one) => [one.id, one.state])).toEqual([
        ['d1', 'joined'],
        ['w1', 'stopped'],
        ['w2', 'joined'],
      ]);
    });
  });
}
