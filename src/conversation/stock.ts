/** The stock of a site: what a sampling takes off it, what a person counts, who hears that it runs out. */
import {
  addUse,
  type Counted,
  countStock,
  judgeStock,
  noStock,
  type SiteStock,
  type StockAlarm,
  type StockItem,
  type StockRules,
  type StockUse,
  stockItems,
  takeOff,
  usedBy,
} from '../case/stock.ts';
import type { DueWhat } from './event.ts';
import { withRole } from './people.ts';
import { durationOf, laboratoryOf, limitOf, type Programme, siteOf } from './programme.ts';
import { inDaytime, instantOf } from './schedule.ts';
import type { Turn } from './turn.ts';
import type { World } from './world.ts';

/** The instant at which `2031-03` is over at a site. */
function endOfMonth(month: string, zone: string): number {
  const [year = 0, number = 1] = month.split('-').map(Number);
  const first = number === 12 ? { year: year + 1, month: 1, day: 1 } : { year, month: number + 1, day: 1 };
  return instantOf(first, 0, zone);
}

/** The programme's figures, with the site's own laboratory and zone. */
export function stockRules(programme: Programme, siteId: string): StockRules {
  const limits = (name: string): Record<StockItem, number> =>
    Object.fromEntries(stockItems.map((item) => [item, limitOf(programme, `${name}-${item}`)])) as Record<
      StockItem,
      number
    >;
  return {
    lowAt: limits('stock-low'),
    perPatient: { ...limits('stock-patient'), slides: laboratoryOf(programme, siteId).slides },
    leadMs: durationOf(programme, 'stock-lead'),
    lookBackMs: durationOf(programme, 'stock-look-back'),
    expiryAheadMs: durationOf(programme, 'stock-expiry-ahead'),
    endOf: (month) => endOfMonth(month, siteOf(programme, siteId).zone),
  };
}

/** The site's stock as loaded. */
export function stockOf(world: World, siteId: string): SiteStock {
  return world.stocks.find((one) => one.siteId === siteId) ?? noStock(siteId);
}

/** After a step: what its cases took is taken off their sites' stock. Practice takes nothing. */
export function takeUseOff(turn: Turn): void {
  const bySite = new Map<string, StockUse>();
  for (const { value, records } of turn.changedCases) {
    if (value.practice) continue;
    const used = records.map(({ event }) => usedBy(event)).reduce(addUse, {});
    if (Object.keys(used).length > 0) bySite.set(value.siteId, addUse(bySite.get(value.siteId) ?? {}, used));
  }
  for (const [siteId, used] of bySite) turn.post(null, { kind: 'stock', siteId, words: null, used }, { caseId: null });
}

/**
 * A use is taken off; what it leaves is looked at a while later, when the patient has gone, so that one text says all.
 * Without a use it is that look, or the one at an expiry.
 */
export function changeStock(turn: Turn, what: DueWhat & { kind: 'stock' }): void {
  const { programme } = turn.world;
  const before = stockOf(turn.world, what.siteId);
  if (Object.keys(before.lines).length === 0) return;
  const rules = stockRules(programme, what.siteId);
  if (what.used) {
    const after = takeOff(before, what.used, turn.now, rules.lookBackMs);
    turn.stocks.push(after);
    if (judgeStock(after, turn.now, rules).alarms.length > 0)
      look(turn, what.siteId, turn.now + durationOf(programme, 'stock-tell'));
    return;
  }
  const judged = judgeStock(before, turn.now, rules);
  turn.stocks.push(judged.stock);
  if (judged.alarms.length > 0) tellAlarms(turn, judged.stock, judged.alarms, what.by ?? null);
}

/** A look at a site's stock, by day. */
function look(turn: Turn, siteId: string, at: number, by: string | null = null): void {
  const { programme } = turn.world;
  const due = inDaytime(at, siteOf(programme, siteId).zone, programme.daytime);
  const what = { kind: 'stock', siteId, words: null, used: null, ...(by === null ? {} : { by }) } as const;
  turn.post(null, what, { caseId: null, at: due, name: 'stock-look' });
}

/** Counts as somebody sent them. */
export function putCounts(turn: Turn, siteId: string, counted: readonly Counted[]): SiteStock {
  const stock = countStock(stockOf(turn.world, siteId), counted, turn.now);
  const rules = stockRules(turn.world.programme, siteId);
  for (const { expires } of counted) {
    if (expires === null) continue;
    const end = rules.endOf(expires);
    for (const at of [end - rules.expiryAheadMs, end]) if (at > turn.now) look(turn, siteId, at);
  }
  turn.stocks.push(stock);
  if (judgeStock(stock, turn.now, rules).alarms.length > 0) look(turn, siteId, turn.now, turn.person?.id ?? null);
  return stock;
}

/** One text to the coordinators and the workers of the site; who has just counted knows, and the others hear it. */
function tellAlarms(turn: Turn, stock: SiteStock, alarms: readonly StockAlarm[], counted: string | null): void {
  const workers = withRole(turn.world, 'worker').filter((one) => one.siteId === stock.siteId);
  const said = alarms.map(({ item, what }) => `${what}:${item}`).join(' ');
  const vars = { stockSite: stock.siteId, stock: JSON.stringify({ ...stock, uses: [] }), stockAlarms: said };
  const tell: DueWhat = { kind: 'tell', key: 'stock.alarm', caseId: null, item: null, vars, lane: 'reminder' };
  const ids = new Set([...withRole(turn.world, 'coordinator'), ...workers].map((one) => one.id));
  if (counted !== null) ids.delete(counted);
  for (const id of ids) turn.post(id, tell, { caseId: null });
}
