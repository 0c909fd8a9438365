import { describe, expect, it } from 'vitest';
import { DailyFigure } from '../../src/line/daily-figure.ts';
import { shipped } from '../support/shipped.ts';
import { morning, person, SmallLine } from '../support/world.ts';

const { programme } = shipped;
const perPhone = programme.limits['texts-a-day']!;
const perLine = programme.limits['line-texts-a-day']!;
const day = 86_400_000;

describe('many texts of one phone in a day', () => {
  const busy = (texts: number): SmallLine => {
    const line = new SmallLine(person('w', 'worker'), person('c', 'coordinator'));
    for (let text = 0; text < texts; text += 1) line.text('w', '?');
    line.settle();
    return line;
  };
  const reminder = {
    kind: 'tell',
    key: 'common.started',
    caseId: null,
    item: null,
    vars: {},
    lane: 'reminder',
  } as const;

  it('are answered all, and told to the coordinator once', () => {
    const line = busy(perPhone + 5);
    expect(line.heard('w').length).toBe(perPhone + 5);
    expect(line.heard('c')).toEqual([expect.stringContaining(`w sent more than ${perPhone} texts today`)]);
    line.text('w', 'SOS');
    line.settle();
    expect(line.heard('w')[0]).toContain('FAINT');
  });

  it('put off reminders till tomorrow, and nothing else', () => {
    const line = busy(perPhone + 1);
    line.heard('w');
    line.due('w', reminder);
    expect(line.heard('w')).toEqual([]);
    expect(line.dues.map((one) => (one.dueAt - morning) / 3_600_000)).toEqual([20]);
    line.due('w', { ...reminder, lane: 'notice' });
    expect(line.heard('w').length).toBe(1);
    line.now += day;
    line.settle();
    expect(line.heard('w').length).toBe(1);
  });

  it('at the limit and the day after are nothing', () => {
    const line = busy(perPhone);
    line.now += day;
    for (let text = 0; text < 3; text += 1) line.text('w', '?');
    line.settle();
    line.due('w', reminder);
    expect(line.heard('c')).toEqual([]);
    expect(line.heard('w').length).toBe(perPhone + 4);
  });
});

describe('many texts of the line in a day', () => {
  const figure = (before: number) =>
    new DailyFigure(programme, {
      roster: async () => [person('c', 'coordinator'), person('w', 'worker')],
      textsSince: async () => before,
    });

  it('put off reminders till the next morning and tell the coordinators once, also after a restart', async () => {
    const busy = figure(perLine);
    await busy.add(0, morning);
    expect(busy.putOffUntil(morning)).toBeNull();
    expect(await busy.dueAt(morning)).toEqual([]);
    await busy.add(1, morning);
    expect((busy.putOffUntil(morning)! - morning) / 3_600_000).toBe(20);
    const [due, ...more] = await busy.dueAt(morning);
    expect([due?.id, more]).toEqual(['busy:c:2030-03-04', []]);
    busy.done(due!);
    expect(await busy.dueAt(morning)).toEqual([]);
    const restarted = figure(perLine + 1);
    await restarted.add(0, morning);
    expect((await restarted.dueAt(morning)).map((one) => one.id)).toEqual([due?.id]);
  });

  it('are forgotten the day after', async () => {
    const busy = figure(perLine + 1);
    await busy.add(0, morning);
    expect(busy.putOffUntil(morning + day)).toBeNull();
  });
});
