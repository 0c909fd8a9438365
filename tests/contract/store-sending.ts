import { describe, expect, it } from 'vitest';
import { lostToken } from '../../src/conversation/ask-token.ts';
import type { LineEvent } from '../../src/conversation/event.ts';
import type { Given } from './given.ts';
import { change, dueEvent, message, minute, morning, person, setAside, stateOn, text, timer } from './store-samples.ts';

/** What every engine promises of texts that wait to be sent. */
export function sendingContract(given: Given): void {
  describe('texts to send', () => {
    const queue = (...messages: ReturnType<typeof message>[]) =>
      given.one(change(`q${messages[0]!.id}`, { outbox: messages }));
    const claimed = async (now: number, limit = 64) =>
      (await given.store().claimOutbox(now, limit)).map((row) => row.message.id);
    const sent = (id: string, at = morning) => given.store().settleOutbox(id, 'sent', at, null, null);

    it('a claimed text is what was queued, word for word', async () => {
      const ask = { field: 'composition', item: 'n1', kind: 'choice', options: [], token: 'f1:3' };
      const whole = message('m', 'w1', { ask, code: '48291354', safety: true, encoding: 'UCS-2', segments: 2 });
      await queue(whole);
      expect(await given.store().claimOutbox(morning, 9)).toEqual([{ message: whole, status: 'sending', tries: 1 }]);
    });

    it('a reply to a text of ours finds the question in it, in its own chat and by its own sender alone', async () => {
      const ask = (token: string) => ({ field: 'composition', item: null, kind: 'choice', options: [], token });
      const chat = (address: string) => ({ channel: 'telegram', address });
      const sending = async (id: string, providerId: string, more: Parameters<typeof message>[2]) => {
        await queue(message(id, 'w1', more));
        await claimed(morning);
        await given.store().settleOutbox(id, 'sent', morning, null, providerId);
      };
      await given.store().putPeople([person('w1', { addresses: [chat('77'), chat('78')] })]);
      await sending('a', '900', { to: chat('77'), ask: ask('one/1') });
      await sending('b', '900', { to: chat('78'), ask: ask('two/1') });
      await sending('n', '901', { to: chat('77') });
      const quoted = async (address: string, providerId: string) => {
        const event = { ...text('r', '-', '1'), from: chat(address), quotes: { providerId } } as LineEvent;
        return (await given.loaded(event)).quotedToken;
      };
      expect(await quoted('77', '900')).toBe('one/1');
      expect(await quoted('78', '900')).toBe('two/1');
      expect([await quoted('77', '901'), await quoted('77', '902'), await quoted('79', '900')]).toEqual([
        null,
        null,
        null,
      ]);
      const unquoted = { ...text('r', '-', '1'), from: chat('77') } as LineEvent;
      expect((await given.loaded(unquoted)).quotedToken).toBeNull();
    });

    it('a text of ours that does not open any more, erased or damaged, is no open question, and no plain text either', async () => {
      const ask = { field: 'composition', item: null, kind: 'choice', options: [], token: 'one/1' };
      const to = { channel: 'telegram', address: '77' };
      await given.store().putPeople([person('w1', { addresses: [to] })]);
      for (const [id, caseId] of [
        ['a', 'c1'],
        ['b', null],
        ['c', null],
      ] as const) {
        if (caseId !== null) await given.openCase(caseId);
        await queue(message(id, 'w1', { to, ask, caseId }));
        await claimed(morning);
        await given.store().settleOutbox(id, 'sent', morning, null, `no-${id}`);
      }
      const quoted = async (id: string) => {
        const event = { ...text('r', '-', '1'), from: to, quotes: { providerId: `no-${id}` } } as LineEvent;
        return (await given.loaded(event)).quotedToken;
      };
      expect([await quoted('a'), await quoted('b')]).toEqual(['one/1', 'one/1']);
      await given.store().eraseCase('c1', morning);
      await given
        .database()
        .tamper("update messages set sealed = (select sealed from messages where id = 'c') where id = 'b'");
      expect([await quoted('a'), await quoted('b'), await quoted('c')]).toEqual([lostToken, lostToken, 'one/1']);
    });

    it('order per person within a lane is kept, one text on its way at a time', async () => {
      await queue(message('a', 'w1'), message('b', 'w1'), message('c', 'w2'));
      expect(await claimed(morning)).toEqual(['a', 'c']);
      expect(await claimed(morning)).toEqual([]);
      expect(await given.store().nextOutboxAt()).toBeNull();
      await sent('a');
      expect(await given.store().nextOutboxAt()).toBe(morning);
      expect(await claimed(morning)).toEqual(['b']);
    });

    it('first aid goes first, then replies, notices, reminders', async () => {
      await queue(
        message('reminder', 'w1', { lane: 'reminder' }),
        message('notice', 'w1', { lane: 'notice' }),
        message('reply', 'w1'),
        message('sos', 'w1', { lane: 'sos' }),
      );
      for (const id of ['sos', 'reply', 'notice', 'reminder']) {
        expect(await claimed(morning)).toEqual([id]);
        await sent(id);
      }
    });

    it('first aid of one person goes before the answers and news of others, though they were said before', async () => {
      await queue(
        message('n', 'w1', { lane: 'notice' }),
        message('a', 'w2'),
        message('b', 'w3'),
        message('sos', 'w4', { lane: 'sos' }),
      );
      for (const id of ['sos', 'a', 'b', 'n']) {
        expect(await claimed(morning, 1)).toEqual([id]);
        await sent(id);
      }
    });

    it('the first text of an alarm goes before what is said of alarms again, to the same person too', async () => {
      await queue(
        message('again', 'd1', { lane: 'sos' }),
        message('again-2', 'd1', { lane: 'sos' }),
        message('first', 'd1', { lane: 'sos', first: true }),
        message('other', 'd2', { lane: 'sos', first: true }),
      );
      for (const id of ['first', 'other', 'again', 'again-2']) {
        expect(await claimed(morning, 1)).toEqual([id]);
        await sent(id);
      }
      // Whoever has waited for longer does not go before it.
      await queue(message('again-3', 'd3', { lane: 'sos' }), message('next', 'd1', { lane: 'sos', first: true }));
      expect(await claimed(morning, 1)).toEqual(['next']);
    });

    it('people of one lane take turns, however much one of them waits for', async () => {
      const many = Array.from({ length: 80 }, (_, n) => message(`m${n}`, 'w1'));
      await queue(...many, message('x0', 'w2'), message('x1', 'w2'));
      const order: string[] = [];
      for (let n = 0; n < 5; n += 1) {
        const [id] = await claimed(morning, 1);
        order.push(id!);
        await sent(id!);
      }
      expect(order).toEqual(['m0', 'x0', 'm1', 'x1', 'm2']);
    });

    it('a channel gets no more than it has room for, but for the first text of an alarm', async () => {
      await queue(message('a', 'w1'), message('b', 'w2'), message('s', 'w3', { lane: 'sos', first: true }));
      const ids = async (room: number) =>
        (await given.store().claimOutbox(morning, 9, { sms: room })).map((row) => row.message.id);
      expect(await ids(0)).toEqual(['s']);
      expect(await ids(1)).toEqual(['a']);
      expect(await ids(5)).toEqual(['b']);
    });

    it('a text that a later one about the same replaced is not sent, and keeps its place', async () => {
      const about = { subject: 'check of an alarm', lane: 'sos' } as const;
      await queue(
        message('old', 'w1', { ...about, first: true }),
        message('between', 'w1', { lane: 'sos' }),
        message('hers', 'w2', about),
      );
      await queue(message('new', 'w1', about));
      for (const id of ['new', 'between']) {
        expect((await claimed(morning)).filter((one) => one !== 'hers')).toEqual([id]);
        await sent(id);
      }
      const kept = await given.store().messages({ personId: 'w1' });
      expect(kept.find((one) => one.id === 'old')?.status).toBe('replaced');
      expect(await given.store().report('old', 'delivered', morning)).toBe(false);
    });

    it('a text on its way that could not go is replaced by the one that was said meanwhile', async () => {
      await queue(message('old', 'w1', { subject: 's' }));
      expect(await claimed(morning)).toEqual(['old']);
      await queue(message('new', 'w1', { subject: 's' }));
      await given.store().settleOutbox('old', 'queued', morning, morning, null);
      expect(await claimed(morning)).toEqual(['new']);
    });

    it('a text of unknown fate does not go out again once a later one about the same was said', async () => {
      await queue(message('old', 'w1', { subject: 's', safety: true }));
      expect(await claimed(morning)).toEqual(['old']);
      await given.store().settleOutbox('old', 'unsure', morning, null, null);
      await queue(message('new', 'w1', { subject: 's' }));
      expect(await claimed(morning + 5 * minute)).toEqual(['new']);
      await sent('new');
      expect(await claimed(morning + 90 * minute)).toEqual([]);
    });

    it('the same words twice to one person are sent once, to two people twice', async () => {
      await queue(message('a', 'w1', { text: 'same' }), message('b', 'w1', { text: 'same' }));
      await queue(message('c', 'w2', { text: 'same' }));
      expect(await claimed(morning)).toEqual(['b', 'c']);
    });

    it('words that were joined with a question are not replaced by the next one, but take the place of the one before', async () => {
      await queue(message('first', 'w1', { subject: 'q' }));
      await queue(message('joined', 'w1', { replaces: ['q'] }), message('third', 'w1', { subject: 'q' }));
      expect(await claimed(morning)).toEqual(['joined']);
      await sent('joined');
      expect(await claimed(morning)).toEqual(['third']);
    });

    it('a clock that was set back leaves no text waiting for longer than its reason allows', async () => {
      const day = 24 * 60 * minute;
      await queue(
        message('sos', 'w1', { lane: 'sos', notBefore: morning + 2 * day, validUntil: morning + 3 * day }),
        message('news', 'w2', { lane: 'notice', notBefore: morning + 2 * day, validUntil: morning + 3 * day }),
        message('budget', 'w3', { lane: 'notice', notBefore: morning + 10 * minute }),
        message('daytime', 'w4', {
          lane: 'reminder',
          notBefore: morning + 2 * day + 90 * minute,
          validUntil: morning + 3 * day,
        }),
      );
      expect(await claimed(morning)).toEqual([]);
      expect(await given.store().boundWaits(morning)).toBe(3);
      expect(await claimed(morning)).toEqual(['sos', 'news']);
      // At its own hour, of an earlier day.
      expect(await claimed(morning + 89 * minute)).toEqual(['budget']);
      expect(await claimed(morning + 90 * minute)).toEqual(['daytime']);
    });

    it('what a channel put off goes at once when it works again, reminders at their hour', async () => {
      await queue(
        message('a', 'w1'),
        message('r', 'w2', { lane: 'reminder' }),
        message('t', 'w3', { to: { channel: 'telegram', address: '7' } }),
      );
      expect(await claimed(morning)).toHaveLength(3);
      for (const id of ['a', 'r', 't']) {
        await given.store().settleOutbox(id, 'queued', morning, morning + minute, null);
      }
      await given.store().endWaits('sms', morning + 1);
      expect(await claimed(morning + 1)).toEqual(['a']);
    });

    it('first aid does not wait for a text on its way', async () => {
      await queue(message('reply', 'w1'));
      await claimed(morning);
      await queue(message('sos', 'w1', { lane: 'sos' }));
      expect(await claimed(morning)).toEqual(['sos']);
    });

    it('a text that must wait holds back its lane, notices and reminders, but no first aid', async () => {
      await queue(message('a', 'w1'), message('b', 'w1'), message('n', 'w1', { lane: 'notice' }));
      await claimed(morning);
      await given.store().settleOutbox('a', 'queued', morning, morning + minute, null);
      expect(await claimed(morning)).toEqual([]);
      expect(await given.store().nextOutboxAt()).toBe(morning + minute);
      await queue(message('sos', 'w1', { lane: 'sos' }));
      expect(await claimed(morning)).toEqual(['sos']);
      await sent('sos');
      expect(await claimed(morning + minute)).toEqual(['a']);
      await sent('a');
      expect(await claimed(morning + minute)).toEqual(['b']);
    });

    it('a reminder kept for daytime holds back nothing', async () => {
      await queue(
        message('late', 'w1', { lane: 'reminder', notBefore: morning + minute }),
        message('now', 'w1', { lane: 'reminder' }),
      );
      expect(await given.store().nextOutboxAt()).toBe(morning);
      expect(await claimed(morning)).toEqual(['now']);
      await sent('now');
      expect(await given.store().nextOutboxAt()).toBe(morning + minute);
      expect(await claimed(morning + minute)).toEqual(['late']);
    });

    it('a text past its time is not sent and does not hold back the next', async () => {
      await queue(message('old', 'w1', { validUntil: morning + 1 }), message('new', 'w1'));
      expect(await claimed(morning + 2)).toEqual(['new']);
      expect((await given.store().messages({ personId: 'w1' })).map((row) => row.status)).toEqual([
        'expired',
        'sending',
      ]);
    });

    it('handing over is noted for the order of questions', async () => {
      await given.one(change('e', { conversation: { personId: 'w1', state: stateOn(null, 'm'), version: null } }));
      await queue(message('m', 'w1'));
      await claimed(morning);
      await given.store().settleOutbox('m', 'handed', morning + 7, null, 'provider-1');
      expect((await given.loaded(text('x', 'w1', '1'))).handedAt).toEqual({ m: morning + 7 });
    });

    it('a report moves status only forward', async () => {
      await queue(message('m', 'w1'));
      await claimed(morning);
      expect(await given.store().report('m', 'delivered', morning + 1)).toBe(true);
      await given.store().settleOutbox('m', 'handed', morning + 2, null, null);
      expect(await given.store().report('m', 'sent', morning + 3)).toBe(false);
      expect(await given.store().report('m', 'delivered', morning + 4)).toBe(false);
      expect(await given.store().report('unknown', 'delivered', morning)).toBe(false);
      expect((await given.store().messages({ personId: 'w1' })).map((row) => row.status)).toEqual(['delivered']);
    });

    it('a part that failed is final, also after another part was delivered', async () => {
      await queue(message('m', 'w1'));
      await claimed(morning);
      for (const status of ['delivered', 'failed', 'delivered'] as const) {
        await given.store().report('m', status, morning + 1);
      }
      expect((await given.store().messages({ personId: 'w1' })).map((row) => row.status)).toEqual(['failed']);
    });

    it('a text that mattered and did not arrive becomes an event, a reminder does not', async () => {
      await queue(
        message('late', 'w1', { safety: true, validUntil: morning + 1 }),
        message('bad', 'w1', { safety: true }),
        message('reminder', 'w2', { lane: 'reminder' }),
      );
      await claimed(morning);
      await given.store().report('late', 'failed', morning + minute);
      expect(await claimed(morning + minute)).toEqual(['bad']);
      await given.store().settleOutbox('bad', 'failed', morning + minute, null, null);
      await given.store().settleOutbox('reminder', 'failed', morning + minute, null, null);
      const due = await given.store().dueBefore(morning + 2 * minute, 9);
      expect(due.map((row) => row.what)).toEqual([
        { kind: 'undelivered', messageId: 'bad', to: 'w1', again: true },
        { kind: 'undelivered', messageId: 'late', to: 'w1', again: false },
      ]);
    });

    it('a text past its time that mattered becomes an event too', async () => {
      await queue(message('old', 'w1', { safety: true, validUntil: morning + 1 }));
      expect(await claimed(morning + minute)).toEqual([]);
      expect((await given.store().dueBefore(morning + minute, 9)).map((row) => row.id)).toEqual(['undelivered:old']);
    });

    it('texts that have not gone out are counted by lane, with the oldest of each', async () => {
      expect(await given.store().queues()).toEqual([]);
      await queue(message('old', 'w1', { lane: 'sos' }), message('held', 'w2', { lane: 'reminder', at: morning + 9 }));
      await queue(message('young', 'w2', { lane: 'reminder', at: morning + 10, notBefore: morning + 60 * minute }));
      expect(await given.store().queues()).toEqual([
        { lane: 'sos', texts: 1, oldestAt: morning },
        { lane: 'reminder', texts: 2, oldestAt: morning + 9 },
      ]);
      expect(await claimed(morning + minute)).toContain('old');
      await given.store().settleOutbox('old', 'handed', morning + minute, null, null);
      expect((await given.store().queues()).map((one) => one.lane)).toEqual(['reminder']);
    });

    it('a link is judged by its own texts, and its bought segments are counted down as they go out', async () => {
      const to = { channel: 'sms', address: '+000555010001' };
      const other = { channel: 'telegram', address: '7' };
      await given.one(change('credit', { credits: [{ channel: 'sms', segments: 10 }] }));
      await queue(
        message('a', 'w1', { to, segments: 3 }),
        message('b', 'w2', { to }),
        message('c', 'w3', { to: other }),
      );
      expect(await claimed(morning)).toHaveLength(3);
      await given.store().settleOutbox('a', 'handed', morning + 1, null, null);
      await given.store().settleOutbox('c', 'handed', morning + 1, null, null);
      await given.store().settleOutbox('b', 'queued', morning + 1, morning + 5, null);
      await given.store().report('a', 'sent', morning + 2);
      expect(await given.store().link('sms')).toEqual({
        sent: [{ handedAt: morning + 1, reportedAt: morning + 2 }],
        heardAt: null,
        waitingSince: morning,
        credit: { left: 7, granted: 10 },
      });
      await given.one(
        change('in', { inbound: { address: to, personId: 'w1', caseId: null, text: '1', networkAt: null } }),
      );
      expect((await given.store().link('sms')).heardAt).toBe(morning);
      expect((await given.store().link('none')).credit).toBeNull();
    });

    it('after a kill a text of safety is sent again, another is unsure', async () => {
      await queue(message('safe', 'w1', { safety: true }), message('plain', 'w2'));
      expect(await claimed(morning)).toHaveLength(2);
      await given.reopen();
      expect(await given.store().recoverOutbox(morning + 10 * minute)).toBe(2);
      expect(await claimed(morning + 10 * minute)).toEqual(['safe']);
      expect((await given.store().messages({ personId: 'w2' })).map((row) => row.status)).toEqual(['unsure']);
      expect(await given.store().report('plain', 'delivered', morning + 11 * minute)).toBe(true);
    });

    it('a text whose fate stays unknown for an hour goes out again, twice at most, and not after its time', async () => {
      const news = { lane: 'notice', validUntil: morning + 600 * minute } as const;
      await queue(message('plain', 'w1', news), message('short', 'w2', { lane: 'notice' }));
      await given.one(
        change('s', { outbox: [message('old', 'w3', { lane: 'notice', validUntil: morning + 30 * minute })] }),
      );
      let now = morning;
      const doubt = async () => {
        for (const id of ['plain', 'old']) await given.store().settleOutbox(id, 'unsure', now, null, null);
      };
      expect(await claimed(now)).toEqual(['plain', 'short', 'old']);
      await doubt();
      expect(await given.store().report('short', 'delivered', now)).toBe(true);
      expect(await claimed(now)).toEqual([]);
      expect(await given.store().nextOutboxAt()).toBe(morning + 60 * minute);
      for (let again = 0; again < 2; again += 1) {
        now += 59 * minute;
        expect(await claimed(now)).toEqual([]);
        now += minute;
        expect(await claimed(now)).toEqual(['plain']);
        await doubt();
        expect(await claimed(now)).toEqual([]);
      }
      expect(await claimed(now + 120 * minute)).toEqual([]);
      expect(await given.store().nextOutboxAt()).toBeNull();
    });

    it('first aid and answers of unknown fate go out again after a minute, twice at most', async () => {
      await queue(message('sos', 'w1', { lane: 'sos' }), message('answer', 'w2'));
      let now = morning;
      for (let times = 0; times < 3; times += 1) {
        expect(new Set(await claimed(now))).toEqual(new Set(['answer', 'sos']));
        for (const id of ['sos', 'answer']) await given.store().settleOutbox(id, 'unsure', now, null, null);
        expect(await claimed(now)).toEqual([]);
        now += minute;
      }
      expect(await claimed(now + 60 * minute)).toEqual([]);
    });

    it('many texts settled at once are all settled', async () => {
      await queue(...Array.from({ length: 20 }, (_, index) => message(`m${index}`, `s${index}`, { personId: null })));
      const ids = await claimed(morning);
      expect(ids).toHaveLength(20);
      await Promise.all(ids.map((id) => sent(id)));
      expect(await given.store().nextOutboxAt()).toBeNull();
      expect(await given.store().recoverOutbox(morning)).toBe(0);
    });
  });

  describe('parked events', () => {
    it('an event that fails twice is kept for a human and does not come again', async () => {
      await given.one(change('e', { due: [timer('d', 'w1', morning)] }));
      const [due] = await given.store().dueBefore(morning, 9);
      const events = [text('t', 'nobody', 'help'), dueEvent(due!)];
      for (const event of events) await given.one(setAside(event));
      expect((await given.store().parked()).map((row) => [row.event, row.code])).toEqual(
        [...events].sort((a, b) => (a.id < b.id ? -1 : 1)).map((event) => [event, 'broken']),
      );
      expect(await given.store().dueBefore(morning, 9)).toEqual([]);
      expect((await given.loaded(events[0]!)).duplicate).toBe(true);
    });
  });
}
