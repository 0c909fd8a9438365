import { describe, expect, it } from 'vitest';
import { foldCase } from '../../src/case/case.ts';
import type { CaseEvent } from '../../src/case/events.ts';
import { figuresOf } from '../../src/case/figures.ts';
import { digestDay, digestDue, nextDigestAt } from '../../src/conversation/digest.ts';
import type { Programme } from '../../src/conversation/programme.ts';
import { Digests } from '../../src/line/digests.ts';
import { shipped } from '../support/shipped.ts';
import { lump } from '../support/targets.ts';
import { person } from '../support/world.ts';

const { programme } = shipped;
const hour = 3_600_000;
const inZone = (zone: string): Programme => ({
  ...programme,
  sites: programme.sites.map((site) => ({ ...site, zone })),
});
const sela = person('sela', 'coordinator');

describe('the morning text', () => {
  it.each([
    ['Africa/Nairobi', '2030-03-12T03:59:59Z', null],
    ['Africa/Nairobi', '2030-03-12T04:00:00Z', '2030-03-12'],
    ['Africa/Nairobi', '2030-03-12T06:59:59Z', '2030-03-12'],
    ['Africa/Nairobi', '2030-03-12T07:00:00Z', null],
    // Clocks go forward on 31 March, back on 27 October.
    ['Europe/Berlin', '2030-03-30T06:00:00Z', '2030-03-30'],
    ['Europe/Berlin', '2030-03-31T05:00:00Z', '2030-03-31'],
    ['Europe/Berlin', '2030-03-31T04:59:00Z', null],
    ['Europe/Berlin', '2030-10-27T06:00:00Z', '2030-10-27'],
    ['America/Lima', '2030-03-13T02:00:00Z', null],
  ])('in %s at %s is that of %s', (zone, at, day) => {
    expect(digestDay(inZone(zone), sela, Date.parse(at))).toBe(day);
  });

  it('falls due once in every day of a year, over both changes of the clock', () => {
    for (const zone of ['Europe/Berlin', 'Africa/Nairobi', 'America/Santiago', 'Australia/Lord_Howe']) {
      let at = Date.parse('2030-01-01T00:00:00Z');
      const days: string[] = [];
      while (at < Date.parse('2031-01-01T00:00:00Z')) {
        const next = nextDigestAt(inZone(zone), [sela], at)!;
        expect(next).toBeGreaterThan(at);
        at = next;
        days.push(digestDay(inZone(zone), sela, at) ?? 'none');
      }
      expect(new Set(days).size).toBe(days.length);
      expect(days.length).toBeGreaterThanOrEqual(365);
      expect(days).not.toContain('none');
    }
  });

  it('is for coordinators on the line, and for nobody else', () => {
    const nobody = [person('w', 'worker'), person('d', 'doctor'), { ...sela, state: 'suspended' as const }];
    expect(nextDigestAt(programme, nobody, 0)).toBeNull();
  });

  it('carries person and day in its id, so that trying again is no second text', () => {
    const ids = [0, 1].map((late) => digestDue(programme, sela, '2030-03-12', late * hour, { head: null }).id);
    expect(ids).toEqual(['digest:sela:2030-03-12', 'digest:sela:2030-03-12']);
  });

  it('is offered until it is handled, not again after that, nor when the clock goes back', async () => {
    const digests = new Digests(
      programme,
      { roster: async () => [sela] },
      { dayHead: async () => 'MARK', unsigned: async () => null },
    );
    const at = Date.parse('2030-03-12T04:00:00Z');
    const [due] = await digests.dueAt(at);
    expect(due?.what).toMatchObject({ head: 'MARK' });
    expect((await digests.dueAt(at + hour)).length).toBe(1);
    digests.done(due!);
    expect(await digests.dueAt(at + hour)).toEqual([]);
    expect(await digests.dueAt(at)).toEqual([]);
    expect((await digests.dueAt(at + 24 * hour)).map((one) => one.id)).toEqual(['digest:sela:2030-03-13']);
    expect(await digests.nextAt(at)).toBe(at + 24 * hour);
  });
});

describe('figures of samples', () => {
  const day = 24 * hour;
  const taken = (id: string, siteId: string, results: readonly string[], more: { practice?: boolean } = {}) => {
    const result = (code: string): CaseEvent => ({
      type: 'result-filed',
      specimen: 's1',
      result: { said: code, system: 'Thy', code, canonical: code, words: '' },
      amends: null,
      reason: null,
    });
    const events: readonly (readonly [number, CaseEvent])[] = [
      [0, { type: 'opened', tag: id, siteId, ownerId: 'w', practice: more.practice ?? false }],
      [
        0,
        {
          type: 'code-issued',
          specimen: 's1',
          target: lump('n1'),
          code: '48291354',
          technique: 'capillary',
          slides: 4,
        },
      ],
      [0, { type: 'attempted', specimen: 's1', attempt: 1, outcome: 'blood' }],
      [0, { type: 'attempted', specimen: 's1', attempt: 2, outcome: 'material' }],
      [1, { type: 'posted', specimens: ['s1'], labId: 'velin' }],
      ...results.map((code, index) => [8 + index, result(code)] as const),
    ];
    return foldCase(
      id,
      'p',
      events.map(([days, event], index) => ({
        caseId: id,
        sequence: index + 1,
        at: days * day,
        by: 'w',
        eventId: 'e',
        flow: '-',
        event,
      })),
    );
  };

  it('count first results, unreadable ones, blood and days, by site, with what they are a part of', () => {
    const cases = [
      taken('a', 'oruma', ['Thy1', 'Thy2']),
      taken('b', 'oruma', ['Thy4']),
      taken('c', 'oruma', []),
      taken('d', 'kesu', []),
    ];
    expect(figuresOf(cases)).toEqual([
      { siteId: 'kesu', results: 0, unreadable: 0, attempts: 2, bloody: 1, awaited: 1, medianDays: null },
      { siteId: 'oruma', results: 2, unreadable: 1, attempts: 6, bloody: 3, awaited: 1, medianDays: 8 },
    ]);
  });

  it('leave practice out', () => {
    expect(figuresOf([taken('a', 'oruma', ['Thy1'], { practice: true })])).toEqual([]);
  });
});
