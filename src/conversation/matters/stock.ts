/** STOCK: what a site has, counted and told by text. */

import {
  type Counted,
  countOf,
  expiryOf,
  patientsLeft,
  type SiteStock,
  type StockItem,
  stockItems,
} from '../../case/stock.ts';
import type { TextKey } from '../../generated/text-keys.ts';
import { foldWord } from '../../text/fold.ts';
import { isFigure } from '../../text/time-words.ts';
import type { DueWhat } from '../event.ts';
import type { Interpreter } from '../interpret.ts';
import type { Matter, Moment } from '../moment.ts';
import { siteOf } from '../programme.ts';
import { localTime } from '../schedule.ts';
import { putCounts, stockOf, stockRules } from '../stock.ts';
import type { Turn } from '../turn.ts';
import type { Person, World } from '../world.ts';

const mostCounted = 9_999;

/** Counts in a text: `slides 40 needles 25`, `40 slides`, `slides +50`, `fixative 6 exp 3/2031`. Null: not understood. */
function readCounts(world: World, locale: string, text: string): readonly Counted[] | null {
  const tokens = foldWord(text.replace(/[,;:=]+/g, ' '))
    .split(' ')
    .filter((one) => one !== '');
  const expiryWords = world.texts.words(locale, 'stock-words', 'expires');
  const itemOf = (token: string): StockItem | null =>
    stockItems.find((item) => world.texts.words(locale, 'stock-item', item).includes(token)) ?? null;
  const counts: Counted[] = [];
  for (let at = 0; at < tokens.length; at += 1) {
    const token = tokens[at]!;
    const next = tokens[at + 1] ?? '';
    if (expiryWords.includes(token)) {
      const read = monthIn(world, locale, tokens.slice(at + 1, at + 3));
      const last = counts.pop();
      if (!read || !last) return null;
      counts.push({ ...last, expires: read.month });
      at += read.tokens;
      continue;
    }
    const item = itemOf(token) ?? itemOf(next);
    const number = /^(\+?)(\d{1,4})$/.exec(itemOf(token) === null ? token : next);
    if (item === null || !number || counts.some((one) => one.item === item)) return null;
    counts.push({ item, count: Math.min(Number(number[2]), mostCounted), added: number[1] === '+', expires: null });
    at += 1;
  }
  return counts.length === 0 ? null : counts;
}

/** `3/2031`, `03.2031`, `2031-03`, `mar 2031`. */
function monthIn(
  world: World,
  locale: string,
  tokens: readonly string[],
): { readonly month: string; readonly tokens: number } | null {
  const [one = '', two = ''] = tokens;
  const digits = /^(\d{1,2})[/.-](20\d\d)$/.exec(one);
  const turned = /^(20\d\d)[/.-](\d{1,2})$/.exec(one);
  const names = [locale, 'en'].flatMap((tag) =>
    world.texts.months(tag).map((name) => (isFigure(name) ? '-' : foldWord(name))),
  );
  const named = /^20\d\d$/.test(two) ? names.findIndex((name) => one.startsWith(name)) : -1;
  const month = digits ? Number(digits[1]) : turned ? Number(turned[2]) : named < 0 ? 0 : (named % 12) + 1;
  const year = digits?.[2] ?? turned?.[1] ?? two;
  if (month < 1 || month > 12) return null;
  return { month: `${year}-${String(month).padStart(2, '0')}`, tokens: digits || turned ? 1 : 2 };
}

/** `MAR 2031`. */
function monthWords(m: Moment, month: string): string {
  const [year = '', number = '1'] = month.split('-');
  const name = m.world.texts.months(m.person.locale)[Number(number) - 1] ?? number;
  return `${name}${isFigure(name) ? '/' : ' '}${year}`;
}

function itemWord(m: Moment, item: string): string {
  return m.world.texts.label(m.person.locale, 'stock-item', item);
}

/** `slides 40, needles 25, fixative 6 (to MAR 2031)`; '' = nothing counted. */
function stockLine(m: Moment, stock: SiteStock): string {
  const rules = stockRules(m.world.programme, stock.siteId);
  return stockItems
    .flatMap((item) => {
      const line = stock.lines[item];
      if (!line) return [];
      const state = countOf(stock, item, m.now, rules);
      const word = (name: 'over' | Exclude<typeof state, 'enough'>): string =>
        m.world.texts.render(m.person.locale, `stock.is-${name}`, () => '');
      const mark = state === 'enough' ? '' : ` ${word(state)}`;
      const over = expiryOf(stock, item, m.now, rules) === 'over' ? ` ${word('over')}` : '';
      const expires = line.expires === null ? '' : ` (${monthWords(m, line.expires)}${over})`;
      return [`${itemWord(m, item)} ${line.count}${mark}${expires}`];
    })
    .join(', ');
}

/** STOCK is read where the stock is loaded: as an event of its own for the same person. */
function hear(turn: Turn, interpreter: Interpreter, words: string): void {
  const person = interpreter.person;
  const [first = '', ...rest] = words.split(/\s+/);
  const { sites } = turn.world.programme;
  const named = sites.find((one) => one.id === first.toLowerCase());
  const everywhere = person.roles.includes('coordinator');
  const site = named && (everywhere || named.id === person.siteId) ? named.id : person.siteId;
  const left = named && site === named.id ? rest.join(' ') : words;
  const all = everywhere && words.trim() === '';
  turn.post(person.id, { kind: 'stock', siteId: all ? '' : site, words: left, used: null }, { caseId: null });
}

/** Answers STOCK. */
export function tellStock(turn: Turn, person: Person, what: DueWhat & { kind: 'stock' }): void {
  turn.disturbed = true;
  const say = (key: TextKey, stock: SiteStock | null): void => {
    const vars = { stockSite: stock?.siteId ?? '', stock: JSON.stringify(stock) };
    turn.say(person, key, { frame: null, caseId: null, vars });
  };
  if (what.siteId === '') {
    const counted = turn.world.stocks.filter((one) => Object.keys(one.lines).length > 0);
    for (const stock of counted) say('stock.shown', stock);
    if (counted.length === 0) say('stock.nothing-anywhere', null);
    return;
  }
  const words = (what.words ?? '').trim();
  const stock = stockOf(turn.world, what.siteId);
  if (words === '') {
    say(Object.keys(stock.lines).length === 0 ? 'stock.nothing' : 'stock.shown', stock);
    return;
  }
  const counted = readCounts(turn.world, person.locale, words);
  if (!counted) {
    say('stock.how', stock);
    return;
  }
  say('stock.noted', putCounts(turn, what.siteId, counted));
}

function stockIn(m: Moment): SiteStock {
  const text = m.frame.vars.stock;
  const siteId = String(m.frame.vars.stockSite ?? m.person.siteId);
  return typeof text === 'string' && text !== 'null' ? (JSON.parse(text) as SiteStock) : stockOf(m.world, siteId);
}

/** `LOW needles 8, syringes 6. fixative EXPIRED MAR 2031, do not use`. */
function alarmLine(m: Moment): string {
  const held = stockIn(m);
  const alarms = String(m.frame.vars.stockAlarms ?? '').split(' ');
  const parts = (['out', 'low', 'expired', 'expires-soon'] as const).flatMap((what) => {
    const items = alarms.filter((one) => one.startsWith(`${what}:`)).map((one) => one.slice(what.length + 1));
    if (items.length === 0) return [];
    const shown = items.map((item) => {
      const line = held.lines[item as StockItem];
      const said = what === 'out' || what === 'low' ? String(line?.count ?? 0) : monthWords(m, line?.expires ?? '');
      return `${itemWord(m, item)} ${said}`;
    });
    const values: Readonly<Record<string, string>> = { items: shown.join(', ') };
    return [m.world.texts.render(m.person.locale, `stock.alarm-${what}`, (name) => values[name] ?? '')];
  });
  return parts.join(' ');
}

export const stock: Matter = {
  commands: { STOCK: { roles: ['worker', 'coordinator'], run: hear } },
  values: {
    stockSite: {
      of: (m) => siteOf(m.world.programme, String(m.frame.vars.stockSite ?? m.person.siteId)).name,
      sample: 'ORUMA CLINIC',
      fromVar: true,
    },
    stockLine: {
      of: (m) => stockLine(m, stockIn(m)),
      sample: 'slides 40, needles 25, syringes 30, fixative 6 (MAR 2031)',
    },
    stockPatients: {
      of: (m) => {
        const held = stockIn(m);
        return String(patientsLeft(held, stockRules(m.world.programme, held.siteId)) ?? '-');
      },
      sample: '10',
    },
    stockAlarms: { of: alarmLine, sample: 'LOW needles 8. Send more before it runs out.', fromVar: true },
    expiryExample: {
      of: (m) => `3/${localTime(m.now, siteOf(m.world.programme, m.person.siteId).zone).year + 1}`,
      sample: '3/2031',
    },
  },
};
