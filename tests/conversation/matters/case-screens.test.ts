import { describe, expect, it } from 'vitest';
import type { CaseEvent } from '../../../src/case/events.ts';
import { historyLines } from '../../../src/conversation/matters/case-history.ts';
import { screensOf } from '../../../src/conversation/matters/case-screens.ts';
import { refersBy } from '../../../src/conversation/matters/filing.ts';
import { countSegments } from '../../../src/text/segments.ts';
import { filed, labelled, opened } from '../../support/case-fixture.ts';
import { shipped } from '../../support/shipped.ts';
import { momentOf } from './moment-of.ts';

const line = (text: string, time = '11:00', who = 'w', day = '4 MAR') => ({ day, time, who, text });

describe('screens of a long case', () => {
  it('leave no line out, keep the order, and fit two segments each beside their head', () => {
    const lines = Array.from({ length: 60 }, (_, at) => line(`step ${at} `.padEnd(20 + (at % 7) * 12, 'x')));
    const screens = screensOf(lines);
    const shown = screens.flat();
    expect(shown).toHaveLength(60);
    for (const [at, text] of shown.entries()) expect(text).toContain(`step ${at} `);
    for (const screen of screens) expect(countSegments(screen.join('\n')).units).toBeLessThanOrEqual(250);
  });

  it('say day, hour and name once, and again at the head of the next screen', () => {
    const lines = [line('a'), line('b'), line('c', '11:05'), line('d', '11:05', 'e'), line('x'.repeat(240)), line('g')];
    expect(screensOf(lines)).toEqual([
      ['4 MAR 11:00 w: a', '- b', '11:05 w: c', '11:05 e: d'],
      [`4 MAR 11:00 w: ${'x'.repeat(240)}`],
      ['4 MAR 11:00 w: g'],
    ]);
  });

  it('give a line that is longer than a screen one of its own, whole', () => {
    const long = 'y'.repeat(900);
    expect(screensOf([line('a'), line(long), line('b')])[1]).toEqual([`4 MAR 11:00 w: ${long}`]);
  });
});

describe('the history in plain words', () => {
  const every: readonly CaseEvent[] = [
    ...opened,
    ...labelled('s1', 'n1', '48291354'),
    { type: 'aftercare-done', outcome: 'well-and-told' },
    { type: 'posted', specimens: ['s1'], labId: 'velin' },
    { type: 'rejected', specimen: 's1', reason: 'leaked-or-dried' },
    { type: 'received', specimen: 's1', slides: 3 },
    { type: 'read-back-failed', specimen: 's1' },
    { type: 'results-locked', specimen: 's1' },
    { type: 'results-unlocked', specimen: 's1' },
    filed('s1', 'Thy1', 'Thy1'),
    { type: 'thy1-reason', specimen: 's1', reason: 'few-cells' },
    { type: 'result-not-counted', specimen: 's1' },
    { ...filed('s1', 'Bethesda V', 'Thy4', 0), reason: 'seen again' } as CaseEvent,
    { type: 'doctor-asked', question: 'q1', about: 'thy4', urgency: 'today', words: '' },
    { type: 'doctor-answered', question: 'q1', answer: 'refer', words: 'today' },
    { type: 'doctor-asked', question: 'q2', about: 'asked', urgency: 'question', words: 'may she eat' },
    { type: 'doctor-answered', question: 'q2', answer: 'words', words: 'yes' },
    { type: 'phoned', specimen: 's1' },
    { type: 'not-reached', specimen: 's1' },
    { type: 'reached', specimen: 's1' },
    { type: 'told', specimen: 's1', outcome: 'agrees' },
    { type: 'appointed', specimen: 's1', on: '2030-03-30' },
    { type: 'attended', specimen: 's1', seen: false },
    { type: 'attended', specimen: 's1', seen: true },
    { type: 'sos-raised', sign: 'not-said' },
    { type: 'sos-raised', sign: 'bleeding-or-swelling' },
    { type: 'sos-raised', sign: 'worse' },
    { type: 'sos-over', outcome: 'well-again' },
    { type: 'frozen', why: 'wrong' },
    { type: 'released' },
    { type: 'taken-over', ownerId: 'gone' },
    { type: 'noted', words: 'says "stop"' },
    { type: 'not-sampled', why: 'follow-up', reviewOn: '2030-09-12' },
    { type: 'specimen-closed', specimen: 's1', end: 'attended' },
    { type: 'closed', outcome: 'referred-and-seen' },
  ];

  it('has words for every step, and shows no name of the program', () => {
    const lines = historyLines(momentOf(every)).map((one) => one.text);
    expect(lines).toMatchSnapshot();
    for (const text of lines) expect(text).not.toMatch(/[a-z]\.[a-z]|[a-z]-[a-z]+-|undefined|\{|\}|^: |: $/);
  });

  it('keeps what clinic and doctors say from the laboratory', () => {
    const moment = momentOf(every);
    const lab = { ...moment, person: { ...moment.person, roles: ['lab' as const] } };
    const text = historyLines(lab)
      .map((one) => one.text)
      .join('\n');
    expect(text).toContain('RESULT Thy1');
    expect(text).not.toMatch(/doctor|patient|SOS|note|FROZEN/);
  });
});

describe('what a doctor answered about a result, in CASE', () => {
  it.each([...refersBy, 'repeat', 'call-me', 'agree'])('%s stands in the words of each language', (answer) => {
    for (const { tag, files } of shipped.sources.locales) {
      expect([tag, files.find(({ name }) => name === 'desk')?.texts.get(`answer-${answer}`)]).toEqual([
        tag,
        expect.any(String),
      ]);
    }
  });
});
