/** Answers that are no options: sizes, numbers, days, codes, words. One small maker a field. */
import { specimenOf } from '../../src/case/case.ts';
import type { Reply, Situation } from './answers.ts';
import type { Lump } from './lump.ts';
import type { Truth } from './truth.ts';
import { lumpOfAsk } from './which-lump.ts';

const dayMs = 86_400_000;
const sideLetter = { right: 'R', left: 'L', isthmus: 'M' } as const;

/** The line of the patient: `AK 1982 F P20`. */
export function patientLine({ initials, born, age, female, pregnantWeeks }: Truth, sayPregnant = true): string {
  const pregnant = pregnantWeeks !== null && sayPregnant ? ` P${pregnantWeeks}` : '';
  return `${initials} ${born ?? age} ${female ? 'F' : 'M'}${pregnant}`;
}

/** Sizes as they are sent: with their unit, so that small ones are not asked back. */
export function sizesLine(lumps: readonly Lump[]): string {
  const big = lumps.filter(({ mm }) => mm[0] > 5).slice(0, 4);
  return big.length === 0 ? '0' : big.map(({ side, mm }) => `${sideLetter[side]} ${mm.join('x')} mm`).join(' ');
}

/** A permitted answer in words or figures, or null where the options say it all. */
export function freeAnswer(at: Situation): string | Reply | null {
  const { ask, truth, of, chance, now } = at;
  const number = (name: string, unit = ''): string => {
    const value = truth.numbers[name];
    // Asked for once more, somebody has measured it.
    const isUnknown = truth.unknown(name) && !(name.startsWith('inr') && at.before > 0);
    if (value === undefined || isUnknown) return '9';
    return value === 9 ? `${value}${unit}` : String(value);
  };
  switch (ask.field) {
    case 'patient':
      return patientLine(truth);
    case 'mm':
      // Felt, not measured: one figure.
      if (!at.examining) return String((ask.item?.startsWith('node') ? truth.node : lumpOfAsk(at))?.mm[0] ?? 18);
      return sizesOf(at);
    case 'fixed-time': {
      const reported = Math.max(0, ...(of?.specimens ?? []).map(({ fixedAt, takenAt }) => fixedAt ?? takenAt ?? 0));
      const forgotten = now - reported > 5 * 3_600_000 || chance.happens(0.05);
      if (forgotten && ask.options[0]) return { text: ask.options[0].reply, ids: [ask.options[0].id] };
      return clock(reported - 4 * 60_000);
    }
    case 'inr':
      return number('inr');
    case 'inrAgeHours':
    case 'inr-age':
      // Wanted anew, it is of this day.
      return at.before > 0 ? '0' : number('inrAgeHours', 'h');
    case 'platelets':
      return number('platelets');
    case 'ivAntiplateletHours':
      return number('ivAntiplateletHours', 'h');
    case 'patient.pregnantWeeks':
      return String(truth.pregnantWeeks ?? 0);
    case 'solidPartMm': {
      const lump = truth.lumps[Number(/\d+/.exec(ask.item ?? '')?.[0] ?? 1) - 1];
      return lump ? `${lump.solidPartMm}mm` : '9';
    }
    case 'slide-code':
      return (of ? specimenOf(of, ask.item) : null)?.code ?? '1';
    case 'fluid': {
      const isSecond = ((of ? specimenOf(of, ask.item) : null)?.fluids.length ?? 0) > 0;
      // What a second needle brings often looks otherwise.
      const other = isSecond && chance.happens(0.6) ? chance.pick(ask.options) : null;
      const colour = other ?? ask.options[(truth.fluid?.colour ?? 2) - 1] ?? ask.options[0]!;
      return { text: `${truth.fluid?.ml ?? 2} ml ${colour.reply}`, ids: [colour.id] };
    }
    case 'label-person': {
      const odd = chance.weighted({ none: 6, hand: 3, year: 2 });
      if (odd === 'hand') return '0';
      const year = (truth.born ?? yearOf(now) - truth.age) - (odd === 'year' && at.before === 0 ? 1 : 0);
      return `Tala Fenn ${year}-03-12`;
    }
    case 'sampler':
      // Who shares no phone is asked too, when the patient comes from one that is shared: there is one name then.
      return '1';
    case 'lab-question':
      return 'It is the upper one.';
    case 'question':
      return 'May I go on like this?';
  }
  switch (ask.kind) {
    case 'date':
      // Who is sent on goes soon; another needle is for tomorrow.
      if (ask.field === 'referral-day')
        return dayAhead(now, chance.weighted({ '0': 5, '1': 4, '2': 2, '4': 2, '6': 1 }));
      return dayAhead(now, chance.weighted({ '0': 1, '1': 6, '2': 3, '4': 3, '6': 2 }));
    case 'number':
      return String(1 + chance.below(2));
    case 'text':
      return ask.options.length > 0 ? ask.options[0]!.reply : 'nothing else';
    case 'diameters':
      return sizesOf(at);
    case 'code':
      return of?.specimens[0]?.code ?? '1';
    default:
      return null;
  }
}

/** One lump alone where the question is about one, else all. */
function sizesOf({ ask, truth }: Situation): string {
  const one = /^n(\d+)$/.exec(ask.item ?? '');
  const lump = one ? truth.lumps[Number(one[1]) - 1] : undefined;
  return lump ? `${lump.mm.join('x')} mm` : sizesLine(truth.lumps);
}

const yearOf = (at: number): number => new Date(at).getUTCFullYear();

/** The clinics are three hours ahead of UTC. */
const aheadMs = 3 * 3_600_000;

/** The time at the clinics. */
const clock = (at: number): string => new Date(at + aheadMs).toISOString().slice(11, 16);

/** `2030-03-09`, the day at the clinics: read in every language. */
export function dayAhead(now: number, days: string | number): string {
  return new Date(now + aheadMs + Number(days) * dayMs).toISOString().slice(0, 10);
}
