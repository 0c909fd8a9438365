import { describe, expect, it } from 'vitest';
import { countStock, noStock, type SiteStock } from '../../src/case/stock.ts';
import type { Due } from '../../src/conversation/event.ts';
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
  text,
  timer,
} from './store-samples.ts';

/** What every engine promises to a coordinator's questions. */
export function coordinatorContract(given: Given): void {
  describe('a phone taken off the line', () => {
    const takenOff = (personId: string, since: number | null): Due => ({
      ...timer('off', personId, morning + 60 * minute),
      frameId: null,
      what: { kind: 'standing', now: 'away', why: 'lost', by: 'Sela', heir: null, since },
    });
    const inbound = (caseId: string) => ({
      address: { channel: 'sms', address: 'bench:w1' },
      personId: 'w1',
      caseId,
      text: '4',
      networkAt: null,
    });

    it('shows what it did since an instant, oldest first, with the cases; and nobody else', async () => {
      await given.openCase('c1', answered);
      await given.openCase('c2');
      await given.openCase('c3');
      await given.one(change('heard', { inbound: inbound('c1') }));
      await given.one(change('told', { outbox: [message('m1', 'w1', { caseId: 'c2' })] }));
      const loaded = await given.loaded(dueEvent(takenOff('w1', morning - minute)));
      expect(loaded.doings.map((one) => `${one.caseId} ${one.type}`)).toEqual([
        'c1 opened',
        'c1 answered',
        'c2 opened',
      ]);
      expect(loaded.cases.map((one) => one.value.id).sort()).toEqual(['c1', 'c2']);
      expect((await given.loaded(dueEvent(takenOff('w2', morning - minute)))).doings).toEqual([]);
    });

    it('shows nothing older, nothing where it is not asked for, and no erased case', async () => {
      await given.openCase('c1', answered);
      await given.one(change('heard', { inbound: inbound('c1') }));
      expect((await given.loaded(dueEvent(takenOff('w1', morning + minute)))).doings).toEqual([]);
      expect((await given.loaded(dueEvent(takenOff('w1', null)))).doings).toEqual([]);
      await given.store().eraseCase('c1', morning);
      expect((await given.loaded(dueEvent(takenOff('w1', 0)))).doings).toEqual([]);
      expect((await given.store().roster(programmeId)).length).toBe(3);
    });
  });

  describe('the stock of a site', () => {
    const look: Due = {
      ...timer('look', 'w1', morning),
      personId: null,
      frameId: null,
      what: { kind: 'stock', siteId: 'hill', words: null, used: null },
    };
    const stocked = (needles: number): SiteStock =>
      countStock(noStock('hill'), [{ item: 'needles', count: needles, added: false, expires: '2031-03' }], morning);

    it('is read where it is asked for, comes back as written, and knows when another was written meanwhile', async () => {
      expect((await given.loaded(dueEvent(look))).stocks).toEqual([]);
      expect(await given.one(change('a', { stocks: [{ value: stocked(9), version: null }] }))).toBe('committed');
      expect((await given.loaded(dueEvent(look))).stocks).toEqual([{ value: stocked(9), version: 1 }]);
      expect(await given.one(change('b', { stocks: [{ value: stocked(8), version: null }] }))).toBe('conflict');
      expect(await given.one(change('c', { stocks: [{ value: stocked(8), version: 1 }] }))).toBe('committed');
      expect(await given.one(change('d', { stocks: [{ value: stocked(7), version: 1 }] }))).toBe('conflict');
      await given.reopen();
      expect((await given.loaded(dueEvent(look))).stocks).toEqual([{ value: stocked(8), version: 2 }]);
      expect((await given.loaded(text('t', 'w1', 'STOCK'))).stocks).toEqual([]);
    });

    it('a look that is due comes back as it was put, sealed or not', async () => {
      const words: Due = {
        ...look,
        id: 'words',
        personId: 'w1',
        what: { ...look.what, words: 'needles 9' } as Due['what'],
      };
      await given.one(change('e', { due: [look, words] }));
      expect((await given.store().dueBefore(morning, 9)).map((one) => one.what)).toEqual([look.what, words.what]);
    });
  });

  describe('the line as a whole', () => {
    const asked = (until: number, since: number | null): Due => ({
      ...timer('all', 'd1', morning),
      frameId: null,
      what: { kind: 'overview', for: 'report', until, since, head: null },
    });

    it('counts what is open, and brings the cases that owe by then and those of late', async () => {
      await given.openCase('c1', answered);
      await given.openCase('c2');
      await given.one(
        change('ask', {
          questions: [
            { value: question('q1', '47', { rung: 0 }), isNew: true },
            { value: question('q2', '48', { about: 'wrong' }), isNew: true },
            { value: question('q3', '49', { answeredAt: morning, answeredBy: 'd1', answer: 'sample' }), isNew: true },
          ],
        }),
      );
      const { overview, stocks } = await given.loaded(dueEvent(asked(morning + 90 * minute, morning)));
      expect(overview).toMatchObject({ openCases: 2, openQuestions: 2, climbedQuestions: 1, frozenQuestions: 1 });
      expect(overview?.owing.map((of) => of.id)).toEqual(['c1', 'c2']);
      expect(overview?.lately.map((of) => of.id).sort()).toEqual(['c1', 'c2']);
      expect(stocks).toEqual([]);
      const none = (await given.loaded(dueEvent(asked(morning + minute, null)))).overview;
      expect([none?.owing, none?.lately]).toEqual([[], []]);
      expect((await given.loaded(text('t', 'd1', 'REPORT'))).overview).toBeNull();
    });

    it('names people whose texts were not delivered since yesterday', async () => {
      await given.one(change('say', { outbox: [message('m1', 'w1'), message('m2', 'w2'), message('m3', 'w1')] }));
      await given.store().claimOutbox(morning, 9);
      await given.store().settleOutbox('m1', 'failed', morning, null, null);
      await given.store().settleOutbox('m2', 'sent', morning, null, null);
      const { overview } = await given.loaded(dueEvent(asked(morning, null)));
      expect(overview?.undelivered).toEqual([{ personId: 'w1', texts: 1 }]);
    });
  });
}
