import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Case } from '../../src/case/case.ts';
import type { LineEvent } from '../../src/conversation/event.ts';
import { freshState } from '../../src/conversation/state.ts';
import type { ChangeSet } from '../../src/line/ports.ts';
import type { LineStore } from '../../src/store/store.ts';
import { shipped } from '../support/shipped.ts';
import type { Database, Given } from './given.ts';
import { auditContract } from './store-audit.ts';
import { coordinatorContract } from './store-coordinator.ts';
import { figuresContract } from './store-figures.ts';
import { mendContract } from './store-mend.ts';
import { patientContract } from './store-patients.ts';
import {
  answered,
  change,
  coded,
  decided,
  dueEvent,
  grown,
  message,
  minute,
  morning,
  opened,
  person,
  phone,
  programmeId,
  question,
  stateOn,
  text,
  timer,
} from './store-samples.ts';
import { sendingContract } from './store-sending.ts';
import { signaturesContract } from './store-signatures.ts';

/** What every engine promises. `fresh` gives an empty database. */
export function storeContract(name: string, fresh: () => Promise<Database>): void {
  describe(`the store on ${name}`, () => {
    let database: Database;
    let store: LineStore;
    const dueAtOf = (of: Case) => (of.status === 'closed' ? null : of.changedAt + 60 * minute);

    beforeEach(async () => {
      database = await fresh();
      store = await database.open({ dueAtOf });
      await store.putPeople([
        person('w1'),
        person('w2', { siteId: 'valley' }),
        person('d1', { roles: ['doctor'], siteId: 'town', rank: 1 }),
      ]);
    });
    afterEach(async () => {
      await store.close();
      await database.drop();
    });

    const one = async (by: ChangeSet) => (await store.commit([by]))[0];
    const loaded = async (event: LineEvent) => (await store.load([event], shipped.flows))[0]!;
    const openCase = async (id: string, ...more: Parameters<typeof grown>[1]) => {
      const made = grown(id, [opened, ...more]);
      expect(await one(change(`open-${id}`, { cases: [made] }))).toBe('committed');
      return { value: made.value, version: 1, records: made.all };
    };

    const given: Given = {
      store: () => store,
      database: () => database,
      async reopen() {
        await database.crash();
        store = await database.open({ dueAtOf });
      },
      one,
      loaded,
      openCase,
    };

    describe('events', () => {
      it('keeps what one event caused: conversation, case, texts, timers', async () => {
        const made = grown('c1', [opened, answered]);
        const state = stateOn('c1', 'e1:0');
        const outcome = await one(
          change('e1', {
            inbound: { address: phone('w1'), personId: 'w1', caseId: 'c1', text: 'NEW', networkAt: morning - 5 },
            conversation: { personId: 'w1', state, version: null },
            cases: [made],
            outbox: [message('e1:0', 'w1', { caseId: 'c1', text: 'What is it made of?' })],
            due: [timer('e1:d0', 'w1', morning + minute)],
          }),
        );
        expect(outcome).toBe('committed');
        const next = await loaded(text('e2', 'w1', '1'));
        expect(next).toMatchObject({ duplicate: false, person: person('w1'), conversation: { state, version: 1 } });
        expect(next.cases).toEqual([{ value: made.value, version: 1 }]);
        expect(next.handedAt).toEqual({ 'e1:0': null });
        expect(await store.history('c1')).toEqual(made.records);
        expect(await store.messages({ caseId: 'c1' })).toEqual([
          expect.objectContaining({ id: 'e1', direction: 'in', text: 'NEW', status: 'received', address: phone('w1') }),
          expect.objectContaining({ id: 'e1:0', direction: 'out', text: 'What is it made of?', status: 'queued' }),
        ]);
        expect(await store.nextDueAt()).toBe(morning + minute);
      });

      it('a repeated key changes nothing', async () => {
        const first = change('e1', { keys: ['sms:1', 'body:x'], outbox: [message('e1:0', 'w1')] });
        const again = change('e9', { keys: ['sms:2', 'body:x'], outbox: [message('e9:0', 'w1')] });
        expect(await store.commit([first, again])).toEqual(['committed', 'duplicate']);
        expect((await store.messages({ personId: 'w1' })).map((row) => row.id)).toEqual(['e1:0']);
        expect((await loaded(text('e9', 'w1', 'x', { keys: ['sms:3', 'body:x'] }))).duplicate).toBe(true);
        expect((await loaded(text('e9', 'w1', 'x', { keys: ['sms:2'] }))).duplicate).toBe(false);
        expect(await store.wereTaken(programmeId, ['sms:2', 'sms:1', 'body:x'])).toEqual([false, true, true]);
      });

      it('of two changes that read the same conversation the second is a conflict', async () => {
        const put = (version: number | null, entries: number) => ({
          conversation: { personId: 'w1', state: { ...freshState, entries }, version },
        });
        expect(await store.commit([change('a', put(null, 1)), change('b', put(null, 2))])).toEqual([
          'committed',
          'conflict',
        ]);
        expect(await store.commit([change('c', put(1, 3)), change('d', put(1, 4))])).toEqual(['committed', 'conflict']);
        expect((await loaded(text('x', 'w1', '?'))).conversation).toMatchObject({ version: 2, state: { entries: 3 } });
        expect(await one(change('d', put(2, 4)))).toBe('committed');
      });

      it('of two changes that read the same case the second is a conflict', async () => {
        const before = await openCase('c1');
        const next = grown('c1', [answered], before);
        expect(await store.commit([change('a', { cases: [next] }), change('b', { cases: [next] })])).toEqual([
          'committed',
          'conflict',
        ]);
        expect(await store.history('c1')).toHaveLength(2);
        expect(await one(change('c', { cases: [grown('c1', [opened])] }))).toBe('conflict');
      });

      it('a change that fails leaves no trace and does not harm its neighbours in the group', async () => {
        const broken = { ...grown('c1', [opened, answered]), records: grown('c1', [opened]).records };
        const outcomes = await store.commit([
          change('a', { outbox: [message('a:0', 'w1')] }),
          change('b', { outbox: [message('b:0', 'w1')], cases: [broken] }),
          change('c', { outbox: [message('c:0', 'w2')] }),
        ]);
        expect(outcomes).toEqual(['committed', 'failed', 'committed']);
        expect(await store.findCase(programmeId, 'c1')).toBeNull();
        expect((await store.messages({ personId: 'w1' })).map((row) => row.id)).toEqual(['a:0']);
        expect((await loaded(text('b', 'w1', '?'))).duplicate).toBe(false);
      });

      it('a key made by a change that failed is not used by the next', async () => {
        const broken = { ...grown('c1', [opened, answered]), records: grown('c1', [opened]).records };
        const whole = grown('c1', [opened, answered]);
        expect(await store.commit([change('a', { cases: [broken] }), change('b', { cases: [whole] })])).toEqual([
          'failed',
          'committed',
        ]);
        await store.close();
        store = await database.open({ dueAtOf });
        expect(await store.findCase(programmeId, 'c1')).toEqual(whole.value);
      });

      it("thirty-two people's changes become durable together", async () => {
        const ids = Array.from({ length: 32 }, (_, index) => `p${index}`);
        await store.putPeople(ids.map((id) => person(id)));
        const outcomes = await store.commit(
          ids.map((id) =>
            change(`e-${id}`, {
              conversation: { personId: id, state: freshState, version: null },
              outbox: [message(`e-${id}:0`, id)],
            }),
          ),
        );
        expect(outcomes).toEqual(ids.map(() => 'committed'));
        await database.crash();
        store = await database.open({ dueAtOf });
        const found = await store.load(
          ids.map((id) => text(`x-${id}`, id, '1')),
          shipped.flows,
        );
        expect(found.map((row) => row.conversation?.version)).toEqual(ids.map(() => 1));
        expect(await store.claimOutbox(morning, 64)).toHaveLength(32);
      });

      it('reopened after a kill every committed thing is there', async () => {
        await openCase('c1', decided, coded('48291354'));
        await one(
          change('e1', {
            conversation: { personId: 'w1', state: stateOn('c1', 'm'), version: null },
            due: [timer('e1:d0', 'w1', morning + minute)],
            questions: [{ value: question('q1', '47'), isNew: true }],
          }),
        );
        await store.saveFlow('hash', 'new', '{"states":{}}', morning);
        await database.crash();
        store = await database.open({ dueAtOf });
        const found = await loaded(text('e2', 'd1', 'CASE 48291354'));
        expect(found.questions).toEqual([question('q1', '47')]);
        expect(found.cases.map((row) => row.value.id)).toEqual(['c1']);
        expect((await store.dueBefore(morning + minute, 9)).map((row) => row.id)).toEqual(['e1:d0']);
        expect(await store.savedFlows()).toEqual([{ hash: 'hash', json: '{"states":{}}' }]);
        expect(await store.verify()).toEqual([]);
      });
    });

    describe('cases', () => {
      it('a code belongs to one case of the programme for good', async () => {
        const before = await openCase('c1', decided, coded('48291354'));
        await openCase('c2');
        const second = grown('c3', [opened, decided, coded('48291354')]);
        expect(await one(change('e2', { cases: [second] }))).toBe('conflict');
        const recoded = grown('c1', [coded('48291451')], before);
        expect(await one(change('e3', { cases: [recoded] }))).toBe('committed');
        expect((await store.findCase(programmeId, '4829 1354'))?.id).toBe('c1');
        expect((await store.findCase(programmeId, '48291451'))?.id).toBe('c1');
        expect(await store.findCase('elsewhere', '48291451')).toBeNull();
      });

      it.each([
        ['GOT 48291354', ['c1']],
        ['4829 1354 Thy4', ['c1']],
        ['4829-1354 thy2\n4829-1451 thy3a', ['c1', 'c2']],
        ['٤٨٢٩١٣٥٤', ['c1']],
        ['YES 4718 1982', []],
        ['482913541', []],
      ])('finds the cases whose codes stand in "%s"', async (words, ids) => {
        await openCase('c1', decided, coded('48291354'));
        await openCase('c2', decided, coded('48291451'));
        const found = await loaded(text('x', 'd1', words));
        expect(found.cases.map((row) => row.value.id).sort()).toEqual(ids);
      });

      it("loads a person's cases from the current thread down, and the case of a due row", async () => {
        await openCase('c1');
        await openCase('c2');
        await openCase('c3');
        const threads = ['c1', 'c2'].map((caseId) => ({ id: `t-${caseId}`, caseId, frames: [], ask: null }));
        await one(change('e', { conversation: { personId: 'w1', state: { ...freshState, threads }, version: null } }));
        expect((await loaded(text('x', 'w1', '1'))).cases.map((row) => row.value.id)).toEqual(['c2', 'c1']);
        const due = timer('d', 'w1', morning, { caseId: 'c3' });
        expect((await loaded(dueEvent(due))).cases.map((row) => row.value.id)).toEqual(['c3', 'c2', 'c1']);
      });

      it("tells a worker of the site's open cases, a doctor of all that wait", async () => {
        await openCase('c1', decided, coded('48291354'));
        await openCase('c2');
        const brief = {
          id: 'c1',
          tag: 'AK 44 F',
          codes: ['48291354'],
          siteId: 'hill',
          ownerId: 'w1',
          status: 'readiness',
          dueAt: morning + 60 * minute,
        };
        const worker = (await loaded(text('x', 'w1', 'LIST'))).briefs;
        expect(worker).toHaveLength(2);
        expect(worker).toContainEqual(brief);
        expect((await loaded(text('x', 'w2', 'LIST'))).briefs).toEqual([]);
        expect((await loaded(text('x', 'd1', 'LIST'))).briefs).toHaveLength(2);
      });

      it('shows a new tag of a case once it was given', async () => {
        const before = await openCase('c1');
        expect((await loaded(text('x', 'w1', 'LIST'))).briefs[0]?.tag).toBe('AK 44 F');
        await one(change('e', { cases: [grown('c1', [{ type: 'retagged', tag: 'AK 44 F left' }], before)] }));
        expect((await loaded(text('x', 'w1', 'LIST'))).briefs[0]?.tag).toBe('AK 44 F left');
      });

      it('a closed case is no longer listed nor overdue', async () => {
        const before = await openCase('c1');
        await one(change('e', { cases: [grown('c1', [{ type: 'closed', outcome: 'advice' }], before)] }));
        expect((await loaded(text('x', 'w1', 'LIST'))).briefs).toEqual([]);
        expect(await store.nextDueAt()).toBeNull();
      });
    });

    describe('due rows', () => {
      it('an overdue duty is spoken of once until the case changes', async () => {
        const before = await openCase('c1');
        const dueAt = morning + 60 * minute;
        expect(await store.dueBefore(dueAt - 1, 9)).toEqual([]);
        expect(await store.nextDueAt()).toBe(dueAt);
        const [due] = await store.dueBefore(dueAt, 9);
        const id = `overdue:c1:${dueAt}:${before.value.sequence}`;
        expect(due).toMatchObject({ id, caseId: 'c1', what: { kind: 'overdue', caseId: 'c1' } });
        await one(change('o1', { doneDue: due!.id }));
        expect(await store.dueBefore(dueAt, 9)).toEqual([]);
        expect(await store.nextDueAt()).toBeNull();
        const unmoved = grown('c1', [answered], before, morning);
        await one(change('e2', { cases: [unmoved] }));
        expect(await store.nextDueAt()).toBeNull();
        const later = { value: unmoved.value, version: 2, records: unmoved.all };
        await one(change('e3', { cases: [grown('c1', [answered], later, morning + minute)] }));
        expect(await store.nextDueAt()).toBe(dueAt + minute);
      });

      it('what comes first is said and left where it is, rows and duties of one instant together', async () => {
        expect(await store.firstDue(9)).toEqual([]);
        const before = await openCase('c1');
        const dueAt = morning + 60 * minute;
        const rows = [timer('d1', 'w1', dueAt), timer('d2', 'w2', dueAt), timer('d3', 'w1', dueAt + minute)];
        await one(change('t1', { due: rows }));
        const id = `overdue:c1:${dueAt}:${before.value.sequence}`;
        expect((await store.firstDue(9)).map((row) => [row.id, row.dueAt])).toEqual([
          ['d1', dueAt],
          ['d2', dueAt],
          [id, dueAt],
        ]);
        expect(await store.firstDue(1)).toHaveLength(1);
        expect((await store.dueBefore(dueAt, 9)).map((row) => row.id)).toEqual(['d1', 'd2', id]);
        await one(change('t2', { due: [timer('d0', 'w1', morning)] }));
        expect((await store.firstDue(9)).map((row) => row.id)).toEqual(['d0']);
      });

      it('a duty that comes back to a time spoken of before is another event, and spoken of again', async () => {
        const before = await openCase('c1');
        const dueAt = morning + 60 * minute;
        const [first] = await store.dueBefore(dueAt, 9);
        await one(change(first!.id, { keys: [first!.id], doneDue: first!.id }));
        const moved = grown('c1', [answered], before, morning + minute);
        await one(change('e2', { cases: [moved] }));
        const back = grown('c1', [answered], { value: moved.value, version: 2, records: moved.all }, morning);
        await one(change('e3', { cases: [back] }));
        const [again] = await store.dueBefore(dueAt, 9);
        expect(again?.dueAt).toBe(dueAt);
        expect(await one(change(again!.id, { keys: [again!.id], doneDue: again!.id }))).toBe('committed');
      });

      it('what is due comes oldest first, with its content, until it is done', async () => {
        const rows = [timer('b', 'w1', morning + 2), timer('a', 'w2', morning + 1), timer('c', 'w1', morning + 3)];
        await one(change('e', { due: rows }));
        expect(await store.dueBefore(morning + 2, 9)).toEqual([rows[1], rows[0]]);
        expect(await store.dueBefore(morning + 3, 1)).toEqual([rows[1]]);
        await one(change('done', { doneDue: 'a' }));
        expect(await store.dueBefore(morning + 2, 9)).toEqual([rows[0]]);
      });

      it('timers are cancelled by name or by frame, and armed anew in the same change', async () => {
        const of = (id: string, name: string, frameId: string) => timer(id, 'w1', morning, { name, frameId });
        await one(change('e', { due: [of('a', 'dry', 'f1'), of('b', 'over', 'f1'), of('c', 'dry', 'f2')] }));
        await one(
          change('f', {
            cancelDue: [{ personId: 'w1', frameId: 'f1', name: 'dry' }],
            due: [of('d', 'dry', 'f1')],
          }),
        );
        expect((await store.dueBefore(morning, 9)).map((row) => row.id)).toEqual(['b', 'c', 'd']);
        await one(change('g', { cancelDue: [{ personId: 'w1', frameId: 'f1', name: null }] }));
        expect((await store.dueBefore(morning, 9)).map((row) => row.id)).toEqual(['c']);
      });

      it('held rows of a person are hurried, never delayed', async () => {
        const held = (id: string, personId: string, dueAt: number) => timer(id, personId, dueAt, { name: 'held' });
        await one(
          change('e', { due: [held('a', 'w1', morning + 9), held('b', 'w1', morning), held('c', 'w2', morning + 9)] }),
        );
        await one(change('f', { hurry: [{ personId: 'w1', name: 'held', at: morning + 5 }] }));
        expect((await store.dueBefore(morning + 5, 9)).map((row) => row.id)).toEqual(['b', 'a']);
      });
    });

    describe('questions', () => {
      it('of two answers to one question the first wins', async () => {
        const asked = question('q1', '47');
        await one(change('e', { questions: [{ value: asked, isNew: true }] }));
        const answer = (by: string) => ({
          questions: [{ value: { ...asked, answeredAt: morning, answeredBy: by, answer: 'sample' }, isNew: false }],
        });
        expect(await store.commit([change('a', answer('d1')), change('b', answer('d2'))])).toEqual([
          'committed',
          'conflict',
        ]);
        const due = timer('n', 'w1', morning, {
          what: { kind: 'answered', questionId: 'q1', caseId: null, answer: 'sample', words: '', by: 'd1' },
        });
        expect((await loaded(dueEvent(due))).questions).toMatchObject([{ answeredBy: 'd1', answer: 'sample' }]);
        expect((await loaded(text('x', 'd1', '47 1'))).questions).toEqual([]);
      });

      it('a tag is free again once its question is answered', async () => {
        const asked = question('q1', '47');
        await one(change('e', { questions: [{ value: asked, isNew: true }] }));
        expect((await loaded(text('x', 'w1', '?'))).tagsInUse).toEqual(['47']);
        const second = { questions: [{ value: question('q2', '47'), isNew: true }] };
        expect(await one(change('f', second))).toBe('conflict');
        await one(change('g', { questions: [{ value: { ...asked, answeredAt: morning }, isNew: false }] }));
        // It rests for a day: a late answer must not meet another patient's question.
        const nextDay = morning + 24 * 60 * minute;
        expect((await loaded(text('y', 'w1', '?', { at: nextDay }))).tagsInUse).toEqual(['47']);
        expect((await loaded(text('z', 'w1', '?', { at: nextDay + 1 }))).tagsInUse).toEqual([]);
        expect(await one(change('f', second))).toBe('committed');
      });

      it('a question is loaded for those it was asked of and with its case', async () => {
        await openCase('c1');
        const asked = question('q1', '47', { caseId: 'c1' });
        await one(
          change('e', {
            questions: [{ value: asked, isNew: true }],
            conversation: { personId: 'w1', state: stateOn('c1', 'm'), version: null },
          }),
        );
        expect((await loaded(text('x', 'd1', '47 1'))).questions).toEqual([asked]);
        expect((await loaded(text('x', 'w1', '1'))).questions).toEqual([asked]);
        expect((await loaded(text('x', 'w2', '1'))).questions).toEqual([]);
      });

      it('an open question goes on to another who waits for it, and opens as before', async () => {
        await openCase('c1');
        const asked = question('q1', '47', { caseId: 'c1' });
        await one(change('e', { questions: [{ value: asked, isNew: true }] }));
        await one(change('f', { questions: [{ value: { ...asked, askedBy: 'w2' }, isNew: false }] }));
        expect((await loaded(text('x', 'd1', '47 1'))).questions).toEqual([{ ...asked, askedBy: 'w2' }]);
      });
    });

    describe('people', () => {
      it('an invitation is used once, and wrong tries are counted', async () => {
        const invitation = {
          id: 'i1',
          personId: 'w1',
          programmeId,
          number: '482913',
          validUntil: morning + minute,
          wrongTries: 0,
          used: false,
        };
        await one(change('e', { people: [{ kind: 'invite', invitation }] }));
        const use = (wrongTry: boolean) => ({
          people: [{ kind: 'use-invitation' as const, invitationId: 'i1', wrongTry }],
        });
        expect(await one(change('f', use(true)))).toBe('committed');
        expect((await loaded(text('x', 'w1', '1'))).invitation).toEqual({ ...invitation, wrongTries: 1 });
        expect(await store.commit([change('g', use(false)), change('h', use(false))])).toEqual([
          'committed',
          'conflict',
        ]);
        expect((await loaded(text('x', 'w1', '1'))).invitation?.used).toBe(true);
      });

      it('the roster is everybody, who was taken off the line too, and follows each change', async () => {
        expect((await store.roster(programmeId)).map((row) => row.id)).toEqual(['d1', 'w1', 'w2']);
        await one(change('e', { people: [{ kind: 'put-person', person: person('w1', { name: 'New name' }) }] }));
        expect((await store.roster(programmeId)).find((row) => row.id === 'w1')?.name).toBe('New name');
        await store.putPeople([person('w2', { state: 'suspended' })]);
        expect((await store.roster(programmeId)).map((row) => `${row.id} ${row.state}`)).toEqual([
          'd1 joined',
          'w1 joined',
          'w2 suspended',
        ]);
        expect(await store.roster('elsewhere')).toEqual([]);
      });

      it('a person of the roster is copied whole, by every way of copying', async () => {
        const hours = { from: 22, to: 6 };
        await store.putPeople([person('d1', { roles: ['doctor'], rank: 1, offUntil: morning, dutyHours: hours })]);
        const [doctor, worker] = await store.roster(programmeId);
        const whole = person('d1', { roles: ['doctor'], rank: 1, offUntil: morning, dutyHours: hours });
        expect({ ...doctor }).toEqual(whole);
        expect(structuredClone(doctor)).toEqual(whole);
        expect(JSON.parse(JSON.stringify(doctor))).toEqual(whole);
        expect(JSON.parse(JSON.stringify(worker))).toEqual(person('w1'));
        await store.putPeople([{ ...doctor!, state: 'stopped' }]);
        expect((await loaded(text('x', 'd1', '?'))).person).toEqual({ ...whole, state: 'stopped' });
      });

      it.each([
        ['name', "update people set sealed = (select sealed from people where id = 'w2') where id = 'w1'"],
        [
          'key',
          "update data_keys set wrapped = (select wrapped from data_keys where id = 'person:w2') where id = 'person:w1'",
        ],
      ])('somebody whose %s does not open shuts out nobody else, and is never written back', async (_what, sql) => {
        await database.tamper(sql);
        await database.crash();
        store = await database.open({ dueAtOf });
        const roster = await store.roster(programmeId);
        expect(roster.map((row) => row.name)).toEqual(['Person d1', '', 'Person w2']);
        expect(roster[1]).toMatchObject({ id: 'w1', state: 'joined', addresses: [] });
        const put = { kind: 'put-person' as const, person: { ...roster[1]!, state: 'stopped' as const } };
        expect(await one(change('e', { people: [put] }))).toBe('failed');
        expect((await store.verify()).join()).toMatch(/person.w1/);
      });

      it('an address belongs to one person until that person gives it up', async () => {
        const thief = { kind: 'put-person' as const, person: person('w3', { addresses: [phone('w1')] }) };
        expect(await one(change('e', { people: [thief] }))).toBe('failed');
        expect((await loaded(text('x', 'w1', '?'))).person?.id).toBe('w1');
        await store.putPeople([person('w1', { addresses: [phone('other')] })]);
        expect((await loaded(text('x', 'w1', '?'))).person).toBeNull();
        expect(await one(change('e', { people: [thief] }))).toBe('committed');
        expect((await loaded(text('x', 'w1', '?'))).person?.id).toBe('w3');
        expect((await loaded(text('x', 'other', '?'))).person?.id).toBe('w1');
      });

      it('answers to unknown senders are counted by day', async () => {
        await one(change('e', { strangerAnswer: '2030-03-04' }));
        await one(change('f', { strangerAnswer: '2030-03-04' }));
        expect(await loaded(text('x', 'nobody', 'hello'))).toMatchObject({ person: null, strangersToday: 2 });
        expect((await loaded(text('x', 'nobody', 'hello', { at: morning + 24 * 60 * minute }))).strangersToday).toBe(0);
      });
    });

    sendingContract(given);
    figuresContract(given);
    auditContract(given);
    signaturesContract(given);
    mendContract(given);
    coordinatorContract(given);
    patientContract(given);
  });
}
