import { describe, expect, it } from 'vitest';
import { shipped } from '../support/shipped.ts';
import { type Instead, openStage } from './stage.ts';

/** What the run says of the learner's last text. */
async function lastOf(id: string, instead: Readonly<Record<string, Instead>>) {
  const stage = await openStage(shipped, id);
  try {
    const report = await stage.play(instead);
    const { sent, verdict, comment } = report.lines.findLast((line) => line.sent !== '')!;
    return { sent, verdict, comment, report };
  } finally {
    await stage.close();
  }
}

describe('a wrong answer is judged so, and the comment says what was seen', () => {
  it.each([
    ['straight', 'sampling.report', '12', 'is cloudy, not red'],
    ['blood', 'sampling.report', '11', 'You saw blood alone'],
    ['faint', 'sampling.report', '14', 'send SOS: first aid and a doctor come at once'],
    ['no-alcohol', 'ready.supplies', '1357H', 'only gel'],
    ['no-alcohol', 'ready.fixatives', '7', 'only gel'],
    ['alone', 'ready.fixatives', '7H', 'a way that needs four hands'],
    ['alone', 'ready.checks', 'ALL A', 'Nobody is there to do it'],
    ['fluid', 'sampling.report', '12', 'brown fluid, not fresh blood'],
    ['silent-doctor', 'decision.emergency', 'CANNOT', 'the car stands outside'],
    ['thy5', 'action.urgent', '1', 'nobody looks for him until tomorrow'],
    ['corrected', 'action.urgent', '2', 'she answers'],
    ['wrong-glass', 'read-back.read-back', 'YES 1111 1984', 'The right answer was "NO"'],
  ])('%s: at %s the answer %s', async (id, step, text, says) => {
    const { sent, verdict, comment, report } = await lastOf(id, { [step]: { lastly: text } });
    expect({ sent, verdict }).toEqual({ sent: text, verdict: 'other' });
    expect(comment).toContain(says);
    expect(report.missed).toBeGreaterThan(0);
  });
});

describe('a right answer that comes late is judged so', () => {
  it.each([
    ['straight', 'aftercare.neck', 15],
    ['faint', 'sampling.report', 4],
    ['silent-doctor', 'decision.emergency', 8],
    ['thy5', 'action.urgent', 5 * 60],
  ])('%s: %s after %i minutes', async (id, step, waits) => {
    const { verdict, comment, report } = await lastOf(id, { [step]: { waits, lastly: true } });
    expect({ verdict, late: report.late }).toEqual({ verdict: 'late', late: 1 });
    expect(comment).toMatch(/^Right, but late: it took .+, and it should be within .+\./);
  });
});

describe('a right answer in other words is right', () => {
  it.each([
    ['sizes with their side in words', 'new.sizes', 'right 22 by 15 by 14'],
    ['sizes in centimetres', 'new.sizes', 'R 2.2 x 1.5 x 1.4 cm'],
    ['what fixes the cells with what samples them', 'ready.supplies', '7H 135'],
  ])('%s', async (_what, step, text) => {
    const { sent, verdict } = await lastOf('straight', { [step]: { lastly: text } });
    expect({ sent, verdict }).toEqual({ sent: text, verdict: 'right' });
  });

  it('sizes of the other side are another answer', async () => {
    const { verdict } = await lastOf('straight', { 'new.sizes': { lastly: 'left 22 by 15 by 14' } });
    expect(verdict).toBe('other');
  });
});

describe('what the learner lets pass', () => {
  it('the lid that nobody closed is asked again at the end, and is late then', async () => {
    const { report, verdict } = await lastOf('straight', {
      'aftercare.lid': { waits: 11, unheard: true },
      'aftercare.lid 2': { waits: 0, lastly: true },
    });
    expect({ verdict, late: report.late }).toEqual({ verdict: 'late', late: 1 });
  });
});

describe('who goes wrong can come back', () => {
  it('an answer that is taken back with B and given rightly counts as right, and both stand in the report', async () => {
    const { report } = await lastOf('silent-doctor', {
      'new.patient': 'EK 1959 M',
      'new.breathing': 'B',
    });
    expect(report.lines.slice(0, 4).map(({ sent, verdict }) => `${sent} ${verdict}`)).toEqual([
      'NEW right',
      'EK 1959 M other',
      'B aside',
      'EK 1959 F right',
    ]);
    expect({ right: report.right, missed: report.missed }).toEqual({ right: 5, missed: 0 });
  });

  it('a finding that was said wrongly is changed at the read-back, and the way goes on', async () => {
    const { report } = await lastOf('straight', {
      'new.looks': '1',
      'new.check': 'C11',
      'new.check 2': { waits: 0, lastly: true },
    });
    expect(report.lines.slice(-40).map(({ sent, verdict }) => `${sent} ${verdict}`)).toEqual(
      expect.arrayContaining(['1 other', 'C11 aside', '14 right', 'OK right']),
    );
    expect(report.right).toBe(15);
  });

  it('a question for help counts neither for nor against', async () => {
    const { report } = await lastOf('silent-doctor', { 'new.breathing': 'W' });
    const help = report.lines.find(({ sent }) => sent === 'W')!;
    expect(help.comment).toBe(
      'You looked something up or went back. That is always allowed and is never counted against you.',
    );
    expect({ right: report.right, missed: report.missed }).toEqual({ right: 5, missed: 0 });
  });
});
