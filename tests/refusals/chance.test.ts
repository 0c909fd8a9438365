import { describe, expect, it } from 'vitest';
import { drawFrom } from '../../src/conversation/random.ts';
import { person, SmallLine } from '../support/world.ts';

const runs = 900;
const triesEach = 12;

/** One forger who sends a dozen random tags to a question of one doctor, as long as tags are just then. */
function forgerWins(seed: number): boolean {
  const line = new SmallLine(person('w', 'worker'), person('d', 'doctor'), person('c', 'coordinator'));
  const bytes = new Uint8Array(16).fill(seed & 255);
  bytes[0] = seed >> 8;
  const draw = drawFrom(bytes);
  line.text('w', 'DOCTOR May I go on?');
  line.settle();
  for (let tries = 0; tries < triesEach; tries += 1) {
    const question = [...line.questions.values()][0]!;
    line.text('d', `${draw.digits(question.tag.length)} go on`);
    line.settle();
    if ([...line.questions.values()][0]!.answeredAt !== null) return true;
  }
  return false;
}

describe('the chance of somebody who writes as a doctor and tries tags', () => {
  it('is three in ninety for a day, as measured over many forgers, not one in eight as if tags stayed short', () => {
    const won = Array.from({ length: runs }, (_, seed) => forgerWins(seed + 1)).filter(Boolean).length;
    // 3/90 = 0.033; three standard deviations at this many runs are 0.018.
    expect(won / runs).toBeGreaterThan(0.01);
    expect(won / runs).toBeLessThan(3 / 90 + 0.018);
  });
});

const dayMs = 24 * 3_600_000;
const added = 'ADD worker +000555010042 oruma Eve Tor';

/** The newest digits that this phone was shown for something to be confirmed. */
function shownTo(line: SmallLine, id: string, before = ''): string {
  return (
    [
      ...line
        .heard(id)
        .join('\n')
        .matchAll(/(?:send|YES|WELL) (\d{2,})/g),
    ].at(-1)?.[1] ?? before
  );
}

/** Somebody writes as both coordinators for some days: a change of the roster each day, and so many tries at its digits. */
function forgeAMonth(
  seed: number,
  days: number,
  perDay: number,
  guess: (secret: string, attempt: number, draw: ReturnType<typeof drawFrom>) => string,
): { readonly won: boolean; readonly odds: number; readonly line: SmallLine } {
  const line = new SmallLine(person('c', 'coordinator'), person('cc', 'coordinator'), person('d', 'doctor'));
  const bytes = new Uint8Array(16).fill(seed & 255);
  bytes[0] = seed >> 8;
  const draw = drawFrom(bytes);
  let odds = 0;
  for (let day = 0; day < days; day += 1) {
    for (const id of ['c', 'cc']) {
      line.heard(id);
      line.text(id, added);
      let secret = shownTo(line, id);
      for (let tries = 0; tries < perDay; tries += 1) {
        odds += 1 / (9 * 10 ** (secret.length - 1));
        line.text(id, guess(secret, tries, draw));
        if (line.invitation !== null) return { won: true, odds, line };
        secret = shownTo(line, id, secret);
      }
      line.settle();
    }
    line.now += dayMs;
  }
  return { won: false, odds, line };
}

/** Digits of the right length that are none of those asked for. */
const wrongOne = (secret: string): string => String(secret.startsWith('1') ? 2 : 1).padEnd(secret.length, '0');

describe('the chance of somebody who writes as both coordinators and tries digits', () => {
  it.each([
    ['three a day', 3],
    ['one a day', 1],
    ['forty a day', 40],
  ])(
    'adds up to less than one in a thousand over 30 days and two phones, however many texts are sent: %s',
    (_, perDay) => {
      const { won, odds, line } = forgeAMonth(1, 30, perDay, wrongOne);
      expect(won).toBe(false);
      // Three of 9,000 at each phone, then three of 900,000, and so on.
      expect(odds).toBeGreaterThan(2 * (3 / 9_000));
      expect(odds).toBeLessThan(1 / 1_000);
      expect(line.roster).toHaveLength(3);
    },
  );

  it('is what six tries give, as measured over many forgers who know half of the digits, not what they had with new tries each day', () => {
    const forgers = 60;
    const half = (secret: string, _: number, draw: ReturnType<typeof drawFrom>): string =>
      secret.slice(0, 2) + draw.digits(secret.length - 1).slice(1);
    const won = Array.from({ length: forgers }, (_, seed) => forgeAMonth(seed + 1, 8, 3, half).won).filter(
      Boolean,
    ).length;
    // 1 - (99/100)^6 = 6 of a hundred; three standard deviations at this many are 9. New tries on each of these
    // eight days: 38 of a hundred.
    expect(won / forgers).toBeLessThan(0.06 + 0.09);
    expect(won).toBeGreaterThan(0);
  });
});

describe('whoever confirms something', () => {
  const asks: Readonly<Record<string, readonly [string, (line: SmallLine) => void, (digits: string) => string]>> = {
    'a change of the roster': ['c', (line) => line.text('c', added), (digits) => digits],
    'a phone that is lost': ['c', (line) => line.text('c', 'LOST vv'), (digits) => digits],
    'the own phone that is lost': ['vv', (line) => line.text('vv', 'LOST vv'), (digits) => digits],
    'a suspension': ['c', (line) => line.text('c', 'SUSPEND vv'), (digits) => digits],
    'a fresh start': ['c', (line) => line.text('c', 'FRESH vv'), (digits) => digits],
    'cases that are handed over': ['c', (line) => line.text('c', 'HANDOVER vv TO w'), (digits) => digits],
    'a case that is ended by hand': [
      'c',
      (line) => {
        const of = [...line.cases.values()][0];
        if (!of) {
          line.text('w', 'NEW');
          line.text('w', 'AK 1982 F');
        }
        const { id } = [...line.cases.values()][0]!;
        line.due('c', { kind: 'run', flow: 'end', caseId: id, item: null, vars: { words: 'moved' } }, id);
      },
      (digits) => `YES ${digits}`,
    ],
    'the last doctor who leaves': ['d', (line) => line.text('d', 'STOP'), (digits) => `YES ${digits}`],
    'an alarm that is over': [
      'w',
      (line) => {
        line.text('w', 'SOS');
        line.text('w', '1');
        line.now += 2 * 60_000;
        line.settle();
      },
      (digits) => `WELL ${digits}`,
    ],
  };

  it.each(Object.entries(asks))('gets longer digits after three wrong ones at %s', (_, [id, ask, said]) => {
    const line = new SmallLine(
      person('w', 'worker'),
      person('vv', 'worker'),
      person('c', 'coordinator'),
      person('d', 'doctor'),
    );
    const widths = [0, 1, 2, 3].map(() => {
      ask(line);
      line.settle();
      const secret = shownTo(line, id);
      line.text(id, said(wrongOne(secret)));
      line.settle();
      return secret.length;
    });
    expect(widths).toEqual([4, 4, 4, 6]);
    line.now += 20 * dayMs;
    line.settle();
    line.heard(id);
    ask(line);
    line.settle();
    expect(shownTo(line, id).length).toBe(6);
    expect(line.heard('c').length + line.roster.length).toBeGreaterThan(3);
  });
});
