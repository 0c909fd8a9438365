import { beforeAll, describe, expect, it } from 'vitest';
import { runCheck } from '../../src/cli/check.ts';
import { quickFindings } from '../../src/cli/quick-findings.ts';
import { type CaseCost, type CaseWay, wholeCaseCosts } from '../../src/cli/whole-case.ts';
import { registry } from '../../src/conversation/matters.ts';
import { shipped as content } from '../support/shipped.ts';

/**
 * The most that a worker may send and be sent in one case: one bloody attempt, Thy4, closed; counted with a hospital's name of 36
 * letters and a phone number of 16. Plain in both voices are 28 texts of a case, from the checks to the going home; each of the other 27
 * but four answers a text of the worker, so that brief words cannot save more without a fact or an answer less.
 */
const most: Readonly<Record<CaseWay, { readonly sends: number; readonly segments: number }>> = {
  plain: { sends: 36, segments: 60 },
  brief: { sends: 36, segments: 55 },
  quick: { sends: 24, segments: 44 },
};

let costs: readonly CaseCost[] = [];
beforeAll(async () => {
  costs = await wholeCaseCosts(content);
}, 120_000);
const of = (way: CaseWay, who: string): CaseCost => {
  const found = costs.find((one) => one.locale === 'en' && one.way === way && one.who === who);
  if (!found) throw new Error(`${who} has no row for ${way}`);
  return found;
};

describe('one whole case', () => {
  it.each(['plain', 'brief', 'quick'] as const)('in %s words stays within what it may cost its worker', (way) => {
    const { sends, receives } = of(way, 'worker');
    expect(sends.texts).toBeLessThanOrEqual(most[way].sends);
    expect(receives.segments).toBeLessThanOrEqual(most[way].segments);
  });

  it.each(['plain', 'brief'] as const)('in %s words costs laboratory and doctor little', (way) => {
    expect(of(way, 'laboratory').sends.texts).toBeLessThanOrEqual(3);
    expect(of(way, 'laboratory').receives.segments).toBeLessThanOrEqual(6);
    expect(of(way, 'doctor').sends.texts).toBeLessThanOrEqual(1);
    expect(of(way, 'doctor').receives.segments).toBeLessThanOrEqual(3);
  });

  it('asks the same in brief words: as many texts sent, fewer segments and octets received', () => {
    const [plain, brief] = [of('plain', 'worker'), of('brief', 'worker')];
    expect(brief.sends).toEqual(plain.sends);
    expect(brief.receives.segments).toBeLessThan(plain.receives.segments);
    expect(brief.receives.octets).toBeLessThan(plain.receives.octets);
  });

  it("costs what the programme's price says, both directions, and nothing where it names none", async () => {
    const { sends, receives, money } = of('plain', 'worker');
    const { perSegmentOut, perSegmentIn } = content.programme.price!;
    expect(money).toBeCloseTo(receives.segments * perSegmentOut + sends.segments * perSegmentIn, 6);
    const { price: _, ...programme } = content.programme;
    const without = await wholeCaseCosts({ ...content, programme });
    expect(without.every((one) => one.money === null)).toBe(true);
  }, 120_000);

  it('is the same whatever times and laboratory a programme has', async () => {
    const { durations, laboratories } = content.programme;
    const programme = {
      ...content.programme,
      durations: { ...durations, 'alcohol-minimum': 60_000, 'watch-short': 120_000, 'watch-long': 7_200_000 },
      laboratories: laboratories.map((one) => ({ ...one, stain: 'dried' as const, slides: 2 })),
    };
    expect(await wholeCaseCosts({ ...content, programme }, { ways: ['plain'] })).toEqual(
      costs.filter(({ way }) => way === 'plain'),
    );
  }, 120_000);

  it('is printed by check for each voice, with its money', async () => {
    const said = { out: '' };
    const stdout = { write: (text: string) => (said.out += text) };
    expect(await runCheck([], { stdout, stderr: stdout }, { registry })).toBe(0);
    for (const way of ['plain', 'brief', 'quick']) {
      expect(said.out).toMatch(new RegExp(`^en +${way} +worker +\\d+ +\\d+ +\\d+ +\\d+ +\\d+\\.\\d\\d +GSM-7$`, 'm'));
      expect(said.out).toMatch(new RegExp(`^en: one case, ${way}, all three people: \\d+\\.\\d\\d [A-Z]{3}$`, 'm'));
    }
  }, 120_000);
});

describe('the findings in one text', () => {
  it('are said in the words of the language', () => {
    const words = content.quick.get('en')!;
    expect(quickFindings(words)).toMatch(/^new AK 1982 f r 22x15x14 solid .* bleeding 0$/);
    expect(quickFindings({ ...words, start: ['mpya'] })).toMatch(/^mpya AK/);
  });

  it('are not said where the language lacks a word', () => {
    const words = content.quick.get('en')!;
    expect(quickFindings({ ...words, none: [] })).toBeNull();
    expect(quickFindings({ ...words, words: {} })).toBeNull();
  });
});
