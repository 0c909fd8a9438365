import { beforeEach, describe, expect, it } from 'vitest';
import { Alerts } from '../../src/line/alerts.ts';
import type { Condition } from '../../src/line/condition.ts';
import type { Alert } from '../../src/line/ports.ts';

const minute = 60_000;
const hour = 60 * minute;
const start = Date.UTC(2030, 2, 4, 8);

let now: number;
let marks: Map<string, string>;
let isFull: boolean;
let takes: boolean;
let asked: Alert[];
let logged: string[];
let alerts: Alerts;

/** A line that has just started, on the marks that are there. */
const open = (): Alerts =>
  new Alerts({
    store: {
      mark: async (name) => marks.get(name) ?? null,
      setMark: async (name, value) => {
        if (isFull) throw Object.assign(new Error('full'), { code: 'SQLITE_FULL' });
        marks.set(name, value);
      },
    },
    clock: { now: () => now },
    steady: () => now,
    log: { write: (_level, event) => void logged.push(event) },
    post: async (alert) => {
      asked.push(alert);
      return takes;
    },
    textOf: ({ key, vars }) => `${key} ${vars.left ?? ''}`.trim(),
  });

const disk = (wrong: boolean): Map<string, Condition> =>
  new Map([['disk-low', { wrong, key: wrong ? 'disk-low' : 'disk-ok', vars: { left: '40' } }]]);
/** So many minutes later the line looks. */
const look = async (wrong: boolean, minutes = 0): Promise<void> => {
  now += minutes * minute;
  await alerts.look(disk(wrong));
};
const said = (): string[] => asked.map(({ state, at }) => `${state} +${(at - start) / minute}`);

beforeEach(() => {
  now = start;
  marks = new Map();
  isFull = false;
  takes = true;
  asked = [];
  logged = [];
  alerts = open();
});

describe('an alert to somebody outside the links', () => {
  it('is said once when it begins and once when it is over, with the instant of its beginning', async () => {
    await look(false);
    await look(true, 1);
    await look(true, 5);
    await look(false, 90);
    await look(false, 5);
    const since = start + minute;
    expect(asked).toEqual([
      { what: 'disk-low', state: 'begun', at: since, since, text: 'disk-low 40' },
      { what: 'disk-low', state: 'over', at: start + 96 * minute, since, text: 'disk-ok 40' },
    ]);
  });

  it('comes once an hour at most, however often it comes and goes', async () => {
    for (let minutes = 0; minutes < 4 * 60; minutes += 1) await look(minutes % 2 === 0, 1);
    const ats = asked.map(({ at }) => at);
    expect(ats.length).toBeGreaterThan(2);
    for (const [index, at] of ats.entries()) if (index > 0) expect(at - ats[index - 1]!).toBeGreaterThanOrEqual(hour);
  });

  it('is not held back by an alert about something else', async () => {
    await look(true);
    await alerts.look(new Map([['parked', { wrong: true, key: 'parked-wait', vars: {} }]]));
    expect(asked.map(({ what }) => what)).toEqual(['disk-low', 'parked']);
  });

  it('is said neither twice nor forgotten by a line that was started anew', async () => {
    await look(true);
    alerts = open();
    await look(true, 5);
    expect(said()).toEqual(['begun +0']);
    alerts = open();
    await look(false, 70);
    expect(said()).toEqual(['begun +0', 'over +75']);
  });

  it('comes again, later and later, while its receiver takes nothing, and then once', async () => {
    takes = false;
    for (let halves = 0; halves < 6 * 120; halves += 1) await look(true, 0.5);
    const gaps = asked.slice(1).map(({ at }, index) => at - asked[index]!.at);
    expect(gaps.slice(0, 5).map((ms) => ms / minute)).toEqual([0.5, 1, 2, 4, 8]);
    expect(Math.max(...gaps)).toBe(hour);
    takes = true;
    asked = [];
    for (let minutes = 0; minutes < 120; minutes += 1) await look(true, 1);
    expect(asked).toHaveLength(1);
    expect(asked[0]?.since).toBe(start + minute / 2);
  });

  it('that was over before anybody could be told is told as over', async () => {
    takes = false;
    await look(true);
    takes = true;
    await look(false, 20);
    await look(false, 70);
    expect(asked.slice(1)).toMatchObject([{ state: 'over', since: start, text: 'disk-ok 40' }]);
  });

  it('is said on a full disk, where nothing can be kept, and not over and over', async () => {
    isFull = true;
    for (let minutes = 0; minutes < 30; minutes += 1) await look(true, 1);
    expect(said()).toEqual(['begun +1']);
    expect(logged).toContain('alert-not-kept');
    isFull = false;
    await look(false, 60);
    expect(said()).toEqual(['begun +1', 'over +90']);
    expect(JSON.parse(marks.get('alert:disk-low')!)).toMatchObject({ since: null, last: 'over' });
  });

  it('is not silenced by a clock that is set back', async () => {
    await look(true);
    await look(false, -24 * 60);
    expect(asked.map(({ state }) => state)).toEqual(['begun', 'over']);
  });

  it('of what is not known yet says nothing', async () => {
    await look(true);
    alerts = open();
    now += 2 * hour;
    await alerts.look(new Map());
    expect(said()).toEqual(['begun +0']);
  });

  it('is not begun any more once the line ends', async () => {
    alerts.end();
    await look(true);
    expect(asked).toEqual([]);
  });
});
