/** What a site has in hand for sampling, what a patient takes of it, and when somebody must hear that it runs out. */
import { assertNever } from '../clinical/assert-never.ts';
import type { CaseEvent } from './events.ts';

/** What is counted. Fixative: jars of alcohol filled, or uses of a spray; one goes with each specimen. */
export const stockItems = ['slides', 'needles', 'syringes', 'fixative'] as const;
export type StockItem = (typeof stockItems)[number];

/** How many of each. */
export type StockUse = Readonly<Partial<Record<StockItem, number>>>;

export interface StockLine {
  /** Never below 0: a site that has more than it counted goes on. */
  readonly count: number;
  /** `2031-03`: good to the end of that month; null = not said. */
  readonly expires: string | null;
  readonly countedAt: number;
  /** What was said about this count last, so that it is said once. */
  readonly toldCount: 'enough' | 'low' | 'out';
  readonly toldExpiry: 'no' | 'soon' | 'over';
}

export interface SiteStock {
  readonly siteId: string;
  /** Only what was ever counted. */
  readonly lines: Readonly<Partial<Record<StockItem, StockLine>>>;
  /** What was used lately, oldest first. */
  readonly uses: readonly { readonly at: number; readonly used: StockUse }[];
}

/** A site that never counted. */
export function noStock(siteId: string): SiteStock {
  return { siteId, lines: {}, uses: [] };
}

/** What one event of a case takes: pencilled slides, a needle and a syringe a puncture, fixative for what was fixed. */
export function usedBy(event: CaseEvent): StockUse {
  switch (event.type) {
    case 'code-issued':
      return { slides: event.slides };
    case 'attempted':
      return { needles: 1, syringes: 1 };
    case 'slides-fixed':
      return event.fixative === 'air-dried' ? {} : { fixative: 1 };
    case 'opened':
    case 'answered':
    case 'retagged':
    case 'linked':
    case 'decided':
    case 'code-checked':
    case 'labelled':
    case 'aftercare-done':
    case 'posted':
    case 'received':
    case 'rejected':
    case 'result-not-counted':
    case 'read-back':
    case 'read-back-failed':
    case 'read-back-dropped':
    case 'results-locked':
    case 'results-unlocked':
    case 'result-filed':
    case 'thy1-reason':
    case 'acknowledged':
    case 'phoned':
    case 'told':
    case 'not-reached':
    case 'reached':
    case 'appointed':
    case 'attended':
    case 'fluid':
    case 'needle-not-done':
    case 'specimen-closed':
    case 'reopened':
    case 'not-sampled':
    case 'closed':
    case 'sos-raised':
    case 'sos-over':
    case 'doctor-asked':
    case 'doctor-answered':
    case 'frozen':
    case 'released':
    case 'taken-over':
    case 'reminded':
    case 'noted':
    case 'stale':
      return {};
    default:
      return assertNever(event);
  }
}

/** Both together. */
export function addUse(one: StockUse, other: StockUse): StockUse {
  const sum: Partial<Record<StockItem, number>> = { ...one };
  for (const item of stockItems) {
    const more = other[item];
    if (more !== undefined) sum[item] = (sum[item] ?? 0) + more;
  }
  return sum;
}

/** Takes a use off the counts. `keepMs`: how long a use is remembered. */
export function takeOff(stock: SiteStock, used: StockUse, at: number, keepMs: number): SiteStock {
  const lines: Partial<Record<StockItem, StockLine>> = { ...stock.lines };
  for (const item of stockItems) {
    const line = lines[item];
    if (line) lines[item] = { ...line, count: Math.max(0, line.count - (used[item] ?? 0)) };
  }
  return { ...stock, lines, uses: [...stock.uses.filter((one) => one.at > at - keepMs), { at, used }] };
}

/** One item as somebody counted it; `added` puts a delivery on top of what was there. */
export interface Counted {
  readonly item: StockItem;
  readonly count: number;
  readonly added: boolean;
  readonly expires: string | null;
}

/** Writes counts. What was said before is forgotten: a new count is judged anew. */
export function countStock(stock: SiteStock, counted: readonly Counted[], at: number): SiteStock {
  const lines: Partial<Record<StockItem, StockLine>> = { ...stock.lines };
  for (const one of counted) {
    const before = lines[one.item];
    const expires = one.expires ?? before?.expires ?? null;
    lines[one.item] = {
      count: one.count + (one.added ? (before?.count ?? 0) : 0),
      expires,
      countedAt: at,
      toldCount: 'enough',
      toldExpiry: expires === before?.expires ? (before?.toldExpiry ?? 'no') : 'no',
    };
  }
  return { ...stock, lines };
}

/** A programme's figures for judging a stock. */
export interface StockRules {
  /** Low at or below this many. */
  readonly lowAt: Readonly<Record<StockItem, number>>;
  /** What one patient takes. */
  readonly perPatient: Readonly<Record<StockItem, number>>;
  /** Time that a delivery takes; low when what is left lasts no longer. */
  readonly leadMs: number;
  /** Time over which use is counted. */
  readonly lookBackMs: number;
  readonly expiryAheadMs: number;
  /** The instant at which a month is over. */
  readonly endOf: (month: string) => number;
}

/** Days that an item lasts at the use of late; null = nothing of it was used. */
export function daysLeft(stock: SiteStock, item: StockItem, now: number, rules: StockRules): number | null {
  const since = now - rules.lookBackMs;
  const used = stock.uses.filter((one) => one.at > since).reduce((sum, one) => sum + (one.used[item] ?? 0), 0);
  const count = stock.lines[item]?.count ?? 0;
  return used === 0 ? null : Math.floor((count * rules.lookBackMs) / used / 86_400_000);
}

/** Whole patients that the counted items are enough for; null = nothing is counted. */
export function patientsLeft(stock: SiteStock, rules: StockRules): number | null {
  const each = stockItems.flatMap((item) => {
    const line = stock.lines[item];
    return line ? [Math.floor(line.count / rules.perPatient[item])] : [];
  });
  return each.length === 0 ? null : Math.min(...each);
}

export interface StockAlarm {
  readonly item: StockItem;
  readonly what: 'low' | 'out' | 'expires-soon' | 'expired';
}

/** How an item's count stands. */
export function countOf(stock: SiteStock, item: StockItem, now: number, rules: StockRules): StockLine['toldCount'] {
  const count = stock.lines[item]?.count ?? 0;
  if (count < rules.perPatient[item]) return 'out';
  const days = daysLeft(stock, item, now, rules);
  const soon = days !== null && days * 86_400_000 <= rules.leadMs;
  return count <= rules.lowAt[item] || soon ? 'low' : 'enough';
}

/** How an item's expiry stands. */
export function expiryOf(stock: SiteStock, item: StockItem, now: number, rules: StockRules): StockLine['toldExpiry'] {
  const expires = stock.lines[item]?.expires ?? null;
  if (expires === null) return 'no';
  const end = rules.endOf(expires);
  if (now >= end) return 'over';
  return now >= end - rules.expiryAheadMs ? 'soon' : 'no';
}

/** What must be said now, and the stock that remembers having said it. A worse state is said, the same one is not. */
export function judgeStock(
  stock: SiteStock,
  now: number,
  rules: StockRules,
): { readonly stock: SiteStock; readonly alarms: readonly StockAlarm[] } {
  const lines: Partial<Record<StockItem, StockLine>> = {};
  const alarms: StockAlarm[] = [];
  for (const item of stockItems) {
    const line = stock.lines[item];
    if (!line) continue;
    const toldCount = countOf(stock, item, now, rules);
    const toldExpiry = expiryOf(stock, item, now, rules);
    if (toldCount !== line.toldCount && (toldCount === 'out' || (toldCount === 'low' && line.toldCount === 'enough')))
      alarms.push({ item, what: toldCount });
    if (toldExpiry !== line.toldExpiry && toldExpiry !== 'no')
      alarms.push({ item, what: toldExpiry === 'over' ? 'expired' : 'expires-soon' });
    lines[item] = { ...line, toldCount, toldExpiry };
  }
  return { stock: { ...stock, lines }, alarms };
}
