import { describe, expect, it } from 'vitest';
import type { Given } from './given.ts';
import {
  change,
  closedNow,
  dueEvent,
  message,
  minute,
  morning,
  phone,
  programmeId,
  question,
  setAside,
  text,
  timer,
} from './store-samples.ts';

/** What every engine promises of the figures. */
export function figuresContract(given: Given): void {
  describe('figures', () => {
    const now = morning + 10 * minute;
    const figures = () => given.store().figures(programmeId, now);

    it('of an empty line are noughts', async () => {
      expect(await figures()).toEqual({
        queues: [],
        late: { rows: 0, oldestAt: null },
        parked: { events: 0, oldestAt: null },
        alarms: [],
        openQuestions: 0,
        cases: {},
      });
    });

    it('count texts that wait or are on their way, by lane and link, from when each was said', async () => {
      const to = { channel: 'telegram', address: '77' };
      const outbox = [
        message('a', 'w1', { at: morning - minute }),
        message('b', 'w2', {}),
        message('c', 'd1', { to, lane: 'sos' }),
        message('d', 'd1', { to: phone('d1'), lane: 'notice' }),
      ];
      await given.one(change('q', { outbox }));
      const [first] = await given.store().claimOutbox(morning, 1);
      expect(first?.message.id).toBe('c');
      await given.store().settleOutbox('d', 'sent', morning, null, null);
      await given.store().claimOutbox(morning, 9);
      await given.store().settleOutbox('d', 'sent', morning, null, null);
      expect((await figures()).queues).toEqual([
        { lane: 'sos', channel: 'telegram', texts: 1, oldestAt: morning },
        { lane: 'reply', channel: 'sms', texts: 2, oldestAt: morning - minute },
      ]);
    });

    it('count what is due and not done, and what a human must look at', async () => {
      const rows = [timer('t1', 'w1', now - 5 * minute), timer('t2', 'w1', now), timer('t3', 'w1', now + 1)];
      await given.one(change('t', { due: rows }));
      expect((await figures()).late).toEqual({ rows: 2, oldestAt: now - 5 * minute });
      await given.one(setAside(dueEvent(rows[0]!)));
      await given.one(setAside(text('x', 'w1', 'one')));
      expect(await figures()).toMatchObject({
        late: { rows: 1, oldestAt: now },
        parked: { events: 2, oldestAt: morning },
      });
    });

    it('tell alarms that nobody answered from other questions, oldest first, with rung and promise', async () => {
      const alarm = (id: string, tag: string, openedAt: number, more: Parameters<typeof question>[2] = {}) => ({
        value: question(id, tag, { urgency: 'now', openedAt, ...more }),
        isNew: true,
      });
      const questions = [
        { value: question('q1', '11'), isNew: true },
        alarm('q2', '12', morning + 2, { rung: 2, promiseUntil: morning + minute }),
        alarm('q3', '13', morning + 1),
        alarm('q4', '14', morning),
      ];
      await given.one(change('q', { questions }));
      const answered = { ...questions[3]!.value, answeredAt: morning + 3, answeredBy: 'd1' };
      await given.one(change('a', { questions: [{ value: answered, isNew: false }] }));
      expect(await figures()).toMatchObject({
        alarms: [
          { openedAt: morning + 1, rung: 1, promiseUntil: null },
          { openedAt: morning + 2, rung: 2, promiseUntil: morning + minute },
        ],
        openQuestions: 3,
      });
    });

    it('count open cases by status, closed ones not', async () => {
      await given.openCase('c1');
      await given.openCase('c2');
      await given.openCase('c3', closedNow);
      expect((await figures()).cases).toEqual({ findings: 2 });
    });

    it('are of one programme', async () => {
      await given.one(change('q', { questions: [{ value: question('q', '15', { urgency: 'now' }), isNew: true }] }));
      await given.openCase('c1');
      await given.one(setAside(text('x', 'w1', 'one')));
      expect(await given.store().figures('another', now)).toMatchObject({
        alarms: [],
        openQuestions: 0,
        cases: {},
        parked: { events: 0 },
      });
    });
  });
}
