import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { nothingChanged } from '../../src/line/change.ts';
import { backupState, type LastBackup, noteBackup, noteFailedBackup } from '../../src/line/last-backup.ts';
import type { Alert, Spare } from '../../src/line/ports.ts';
import { spentAlarms } from '../../src/line/spent-alarms.ts';
import { LinkedLine } from '../support/linked-line.ts';
import { person } from '../support/links.ts';
import { shipped } from '../support/shipped.ts';

const minute = 60_000;
const hour = 60 * minute;
const worker = person('w', 'worker', ['sms']);
const doctor = person('d', 'doctor', ['telegram']);
const second = { ...person('e', 'doctor', ['telegram']), rank: 2 };
const coordinator = person('c', 'coordinator', ['telegram']);

describe('what the line looks after', () => {
  let line: LinkedLine;
  let alerts: Alert[];
  const spare = { inUse: false, free: 5e9, release: () => true, refill: () => true, freeBytes: () => spare.free };

  beforeEach(async () => {
    alerts = [];
    Object.assign(spare, { inUse: false, free: 5e9 });
    line = await LinkedLine.open([worker, doctor, second, coordinator], {
      spare: spare satisfies Spare,
      postAlert: async (alert) => {
        alerts.push(alert);
        return true;
      },
    });
    await look();
  });
  afterEach(() => line.close());

  /** Time passes, what is due happens, the line looks. */
  const look = async (minutes = 0): Promise<void> => {
    await line.later(minutes);
    await line.line.watch.look();
    await line.line.alerts!.look(line.line.watch.conditions);
    await line.later(0);
  };
  const said = (): string[] =>
    alerts.map(({ what, state, text }) => `${what} ${state}: ${text.split(': ').slice(1).join(': ')}`);

  it('is all well on a new line, and nobody hears of it', async () => {
    expect([...line.line.watch.conditions.values()].filter(({ wrong }) => wrong)).toEqual([]);
    expect(alerts).toEqual([]);
    expect(line.telegram.to('c').join('\n')).not.toMatch(/backup/i);
  });

  it('a copy that is late is told to coordinators and outside, stands in the morning text, and is over with the next', async () => {
    await look(26 * 60);
    expect(said()).toEqual([]);
    await look(1);
    const words = 'The last backup of the line is 26 hours old. Please tell the operator to make one today.';
    expect(said()).toEqual([`backup begun: ${words}`]);
    expect(line.telegram.to('c')).toContain(words);
    // To 04:01 UTC, which is the morning of Nairobi.
    await look(18 * 60);
    expect(line.telegram.to('c').join('\n')).toMatch(/MORNING .*NO BACKUP for 44 hours/);
    await noteBackup(line.store, line.now, 0);
    await look(1);
    expect(said().at(-1)).toBe('backup over: There is a new backup of the line.');
    expect(line.telegram.to('c').at(-1)).toBe('There is a new backup of the line.');
    await look(24 * 60);
    expect(
      line.telegram
        .to('c')
        .filter((text) => text.includes('MORNING'))
        .at(-1),
    ).not.toContain('NO BACKUP');
  });

  it('a copy that could not be made is told at once, and is over with the next that can', async () => {
    await noteBackup(line.store, line.now - hour, 0);
    await noteFailedBackup(line.store, line.now);
    await look(1);
    expect(said()).toEqual(['backup begun: A backup of the line failed. Please tell the operator to look today why.']);
    await noteBackup(line.store, line.now, 0);
    await look(61);
    expect(alerts.map(({ state }) => state)).toEqual(['begun', 'over']);
  });

  it('faults that a copy found in the database are told until one finds none', async () => {
    await noteBackup(line.store, line.now, 3);
    await look();
    expect(said()).toEqual([expect.stringMatching(/^backup-faults begun: The last backup found 3 faults/)]);
    expect(line.telegram.to('c').join('\n')).toContain('The last backup found 3 faults');
    await noteBackup(line.store, line.now, 0);
    await look(61);
    expect(said().at(-1)).toMatch(/^backup-faults over/);
  });

  it('a disk that is nearly full, and one that is', async () => {
    spare.free = 40_000_000;
    await look();
    spare.inUse = true;
    await look(5);
    Object.assign(spare, { inUse: false, free: 5e9 });
    await look(120);
    expect(alerts.map(({ what, state }) => `${what} ${state}`)).toEqual([
      'disk-low begun',
      'disk-full begun',
      'disk-low over',
      'disk-full over',
    ]);
    expect(alerts[0]?.text).toContain('40 MB are left');
  });

  it('a link that takes nothing, until it takes texts again', async () => {
    line.sms.answer = { kind: 'later', waitMs: 1000, why: 'down' };
    await line.says(worker, 'NEW');
    await look(4);
    expect(said()).toEqual([expect.stringMatching(/^link-sms begun: SMS: a text has waited over 4 minutes/)]);
    line.sms.answer = { kind: 'sent' };
    await look(60);
    expect(said().at(-1)).toBe('link-sms over: SMS: it works again.');
  });

  it('an alarm that every doctor was asked of; over when one answers. No word of the patient leaves', async () => {
    await line.says(worker, 'NEW', 'QX 1961 F', 'SOS', '2');
    // The first doctor, then the second: five minutes a rung.
    await look(4);
    await look(4);
    expect(said()).toEqual([]);
    for (let fives = 0; fives < 2; fives += 1) await look(5);
    expect(said()).toEqual([
      expect.stringMatching(/^alarm begun: An alarm has waited \d+ minutes\. I asked every doctor/),
    ]);
    expect(JSON.stringify(alerts)).not.toMatch(/QX|1961|ORUMA|Person|\+000/i);
    const tag = /Q(\d\d)/.exec(line.heardBy('d'))![1]!;
    await line.says(doctor, `${tag} 2`);
    await look(60);
    expect(said().at(-1)).toBe('alarm over: No alarm waits any more.');
  });

  it('an event that is kept for a human', async () => {
    const event = {
      kind: 'text' as const,
      id: 'odd',
      programmeId: shipped.programme.id,
      keys: ['odd'],
      at: line.now,
      seed: new Uint8Array(16),
      from: worker.addresses[0]!,
      text: 'QX 1961',
      networkAt: null,
    };
    const change = nothingChanged('odd', shipped.programme.id, line.now);
    await line.store.commit([{ ...change, keys: ['odd'], parked: { event, code: 'broken' } }]);
    await look();
    expect(said()).toEqual([expect.stringMatching(/^parked begun: 1 texts? or timers? wait/)]);
    expect(JSON.stringify(alerts)).not.toContain('QX');
  });

  it('texts that cannot be read, for an hour after the last', async () => {
    await line.line.unreadable.note({ sos: false, numbers: [], mark: 'x' });
    await look();
    await look(62);
    expect(said()).toEqual([
      expect.stringMatching(/^unreadable begun: SMS: texts came that I cannot read, 1 in all/),
      'unreadable over: SMS: for an hour no text came that I cannot read.',
    ]);
  });

  it('what is due and does not happen', async () => {
    const what = { kind: 'trouble', key: 'link-ok', vars: { link: 'SMS' } } as const;
    const due = {
      id: 'late',
      programmeId: shipped.programme.id,
      personId: null,
      caseId: null,
      name: 'x',
      frameId: null,
    };
    const change = nothingChanged('put', shipped.programme.id, line.now);
    await line.store.commit([{ ...change, due: [{ ...due, dueAt: line.now, what }] }]);
    line.now += 4 * minute;
    await line.line.watch.look();
    await line.line.alerts!.look(line.line.watch.conditions);
    expect(said()).toEqual([expect.stringMatching(/^due begun: Timers have been late for 4 minutes/)]);
  });
});

describe('the age of the newest copy', () => {
  const last = (more: Partial<LastBackup>): LastBackup => ({
    madeAt: null,
    faults: 0,
    failedAt: null,
    awaitedSince: null,
    ...more,
  });
  it.each([
    ['made within the limit', last({ madeAt: 90 }), 'well'],
    ['made longer ago', last({ madeAt: 89 }), 'late'],
    ['never made, and waited for within the limit', last({ awaitedSince: 90 }), 'well'],
    ['never made, and waited for longer', last({ awaitedSince: 89 }), 'late'],
    ['made in the future, before the clock was set back, is no young one for ever', last({ madeAt: 111 }), 'late'],
    ['young, and the next one failed', last({ madeAt: 95, failedAt: 99 }), 'failed'],
    ['of which nothing is known', last({}), 'well'],
  ])('%s', (_what, one, state) => {
    expect(backupState(one, 100, 10)).toBe(state);
  });
});

describe('an alarm that nobody answers', () => {
  const alarm = (rung: number, promiseUntil: number | null = null) => ({ openedAt: 0, rung, promiseUntil });
  it.each([
    ['the second of two doctors is asked', alarm(1), 2, 0],
    ['both were asked', alarm(2), 2, 1],
    ['there is no doctor', alarm(1), 0, 1],
    ['somebody has it in hand', alarm(2, 101), 2, 0],
    ['somebody had it in hand until now', alarm(2, 100), 2, 1],
  ])('%s', (_what, one, doctors, spent) => {
    expect(spentAlarms([one], doctors, 100)).toHaveLength(spent);
  });
});
