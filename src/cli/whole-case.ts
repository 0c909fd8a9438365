/** What one whole case costs by SMS, in each language, in plain and in brief words and by quick text: played, not estimated. */
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { readLine } from '../channels/play/script.ts';
import { type Content, packageRoot, shippedProgramme } from '../content/load.ts';
import { atItsWidest } from '../content/wording/long-values.ts';
import { registry } from '../conversation/matters.ts';
import type { Price } from '../conversation/programme.ts';
import { openKeyRing } from '../store/keys.ts';
import { openStore } from '../store/open.ts';
import { countSegments, userDataOctets } from '../text/segments.ts';
import { type PlayedMessage, Player } from './player.ts';
import { quickFindings } from './quick-findings.ts';

/** How the case is texted: guided in plain or in brief words, or its findings in one text and the rest in brief words. */
export const caseWays = ['plain', 'brief', 'quick'] as const;
export type CaseWay = (typeof caseWays)[number];

/** One direction of the texts between a person and the line. */
export interface Way {
  readonly texts: number;
  readonly segments: number;
  /** Of user data, as `userDataOctets` counts. */
  readonly octets: number;
}

/** What one person of the case sends and receives. */
export interface CaseCost {
  readonly locale: string;
  readonly way: CaseWay;
  readonly who: string;
  readonly sends: Way;
  readonly receives: Way;
  /** At the programme's price; null = it names none. */
  readonly money: number | null;
  readonly encoding: 'GSM-7' | 'UCS-2' | 'both';
}

type PersonCost = Pick<CaseCost, 'sends' | 'receives' | 'encoding'>;

const names: Readonly<Record<string, string>> = { w: 'worker', l: 'laboratory', d: 'doctor' };

/** Adds texts up, by phone; the CASE that only looks at the end is left out. */
export function costOfMessages(messages: readonly PlayedMessage[]): ReadonlyMap<string, PersonCost> {
  const end = messages.findIndex((one) => one.dir === 'in' && one.text.startsWith('CASE'));
  const cost = new Map<string, PersonCost>();
  const nothing: Way = { texts: 0, segments: 0, octets: 0 };
  for (const { phone, dir, text, segments, encoding } of end < 0 ? messages : messages.slice(0, end)) {
    const before = cost.get(phone) ?? { sends: nothing, receives: nothing, encoding };
    const way = dir === 'in' ? 'sends' : 'receives';
    const sum = {
      texts: before[way].texts + 1,
      segments: before[way].segments + segments,
      octets: before[way].octets + userDataOctets(text),
    };
    cost.set(phone, { ...before, [way]: sum, encoding: before.encoding === encoding ? encoding : 'both' });
  }
  return cost;
}

/**
 * Plays the case in each language and way that is asked for (all, unless said), with the widest names that a programme may
 * have, at the price of this one. Throws when it does not come to its end: that is a bug.
 */
export async function wholeCaseCosts(
  content: Content,
  only: { readonly languages?: readonly string[]; readonly ways?: readonly CaseWay[] } = {},
): Promise<readonly CaseCost[]> {
  const script = readFileSync(join(packageRoot, 'flows', 'whole-case.play'), 'utf8').split('\n');
  const wide = withWidestNames(content);
  const rows: CaseCost[] = [];
  for (const { tag } of content.sources.locales) {
    if (only.languages && !only.languages.includes(tag)) continue;
    for (const way of only.ways ?? caseWays) {
      const lines = way === 'quick' ? inOneText(script, content, tag) : script;
      if (lines === null) continue;
      const cost = costOfMessages(await playIn(wide, lines, tag, way));
      for (const [phone, who] of Object.entries(names)) {
        const of = cost.get(phone);
        if (of) rows.push({ locale: tag, way, who, ...of, money: moneyOf(of, content.programme.price) });
      }
    }
  }
  return rows;
}

/** What the texts of one person cost at this price, both directions. */
function moneyOf({ sends, receives }: PersonCost, price: Price | undefined): number | null {
  return price ? receives.segments * price.perSegmentOut + sends.segments * price.perSegmentIn : null;
}

/**
 * The package's programme, whose times and laboratory the script goes by (in another it may ask other questions), with a
 * hospital's name of 36 letters and a phone number of 16.
 */
function withWidestNames(content: Content): Content {
  const [hospital, voiceNumber] = ['Velin Hospital, gate 2', '+000 555 0100'].map(atItsWidest) as [string, string];
  const places = { hospital, night: hospital, voiceNumber };
  const programme = shippedProgramme();
  const sites = programme.sites.map((one) => ({ ...one, ...places }));
  return { ...content, programme: { ...programme, ...places, sites } };
}

/** The script with all findings in one text; null where the language has no words for them. */
function inOneText(script: readonly string[], { quick }: Content, locale: string): readonly string[] | null {
  const vocabulary = quick.get(locale);
  const text = vocabulary ? quickFindings(vocabulary) : null;
  if (text === null) return null;
  return [...script.slice(0, script.indexOf('w> NEW')), `w> ${text}`, ...script.slice(script.indexOf('w> OK'))];
}

async function playIn(
  content: Content,
  script: readonly string[],
  locale: string,
  way: CaseWay,
): Promise<readonly PlayedMessage[]> {
  const folder = mkdtempSync(join(tmpdir(), 'neckline-case-'));
  const file = join(folder, 'case.db');
  const messages: PlayedMessage[] = [];
  const player = new Player({
    content,
    registry,
    countSegments,
    log: { write: () => undefined },
    open: (dueAtOf) =>
      openStore({ url: `sqlite:${file}`, keys: openKeyRing(`${file}.key`), dueAtOf, exclusive: false }),
    emit: (played) => {
      if (played.kind === 'message') messages.push(played.message);
    },
  });
  try {
    for (const line of script) {
      await player.play(readLine(/^phone\b/.test(line) ? `${line} locale=${locale}` : line));
      if (way === 'plain' || !line.startsWith('phone w ')) continue;
      // Sent once in a life, not with each case.
      await player.play(readLine('w> BRIEF'));
      messages.length = 0;
    }
  } finally {
    await player.close();
    rmSync(folder, { recursive: true, force: true });
  }
  const isRead = messages.every(({ step }) => step !== 'unreadable');
  if (player.exitCode !== 0 || !isRead) throw new Error(`the whole case does not play in ${locale}, ${way}`);
  return messages;
}
