/** The morning text and the report: what is late by kind, what runs out, who cannot be reached; or that all is quiet. */
import { type Case, currentResult } from '../case/case.ts';
import { dutyOf } from '../case/duty.ts';
import { figuresOf } from '../case/figures.ts';
import { countOf, expiryOf, type SiteStock, stockItems } from '../case/stock.ts';
import { dutyTimes } from './duties.ts';
import type { DueWhat, Unsigned } from './event.ts';
import { isHeldByBad } from './matters/stands.ts';
import { durationOf, siteOf } from './programme.ts';
import { stockRules } from './stock.ts';
import type { Turn } from './turn.ts';
import type { Person, World } from './world.ts';

/** Kinds of lateness, the most urgent first; each has a text `digest.late-…`. */
const lateKinds = [
  ...(['present', 'not-told', 'bad', 'unconfirmed', 'not-seen', 'result', 'receipt', 'posting'] as const),
  ...(['lacking', 'unfinished'] as const),
] as const;
export type LateKind = (typeof lateKinds)[number];

const kindOf: Readonly<Record<string, LateKind>> = {
  sampling: 'present',
  labelling: 'present',
  aftercare: 'present',
  posting: 'posting',
  receipt: 'receipt',
  result: 'result',
  action: 'not-seen',
  supplies: 'lacking',
};

/** Questions that the clinic answers while the patient is there: over night without an answer, somebody is stuck. */
const answeredHere: ReadonlySet<string> = new Set(['findings', 'decision', 'readiness', 'left']);

/** What an open case is late with at this instant; null = nothing. */
function lateOf(world: World, of: Case, now: number): LateKind | null {
  if (of.practice || of.closed !== null) return null;
  const atLab = stuckAtLab(of);
  if (atLab !== null) return atLab;
  const duty = dutyTimes(world.programme, of.siteId, (msOf, dayStart) => dutyOf(of, msOf, dayStart));
  if (!duty) return null;
  const stuckSince = duty.since + durationOf(world.programme, 'unanswered');
  const isStuck = answeredHere.has(duty.what) && stuckSince <= now;
  // A duty that was spoken of is late until it is done, also between two reminders; a needle that lacks something is from
  // the beginning.
  if (duty.what !== 'supplies' && !isStuck && duty.dueAt > now && duty.rung === 0) return null;
  if (duty.what !== 'action') return kindOf[duty.what] ?? 'unfinished';
  const untold = of.specimens.some((one) => one.end === null && currentResult(one) !== null && one.told === null);
  return untold ? 'not-told' : 'not-seen';
}

/** Glass that cannot be used, or a result that nobody confirmed: somebody speaks with the laboratory, whenever it is due. */
function stuckAtLab(of: Case): LateKind | null {
  const open = of.specimens.filter((one) => one.end === null);
  if (isHeldByBad(of) || open.some((one) => one.rejected !== null)) return 'bad';
  const isLapsed = open.some((one) => one.lapsed !== null && one.readBack === null && one.results.length === 0);
  return isLapsed ? 'unconfirmed' : null;
}

/** One part of the text: how many of a kind, or whose. */
export interface Part {
  readonly kind: string;
  readonly count: number;
  readonly names: readonly string[];
}

/** Everything worth saying, most urgent first; empty = all is quiet. Who was taken off on purpose is said when `asked` only. */
function partsOf(turn: Turn, asked: boolean): readonly Part[] {
  const { world, now } = turn;
  const { overview } = world;
  if (!overview) return [];
  const late = overview.owing.flatMap((of) => lateOf(world, of, now) ?? []);
  const nameOf = (id: string): string => world.roster.find((one) => one.id === id)?.name ?? '';
  const people = (state: Person['state']): readonly string[] =>
    world.roster.filter((one) => one.state === state).map((one) => one.name);
  const parts: Part[] = [
    ...lateKinds.map((kind) => ({ kind, count: late.filter((one) => one === kind).length, names: [] })),
    { kind: 'frozen', count: overview.frozenQuestions, names: [] },
    { kind: 'questions', count: overview.climbedQuestions, names: [] },
    { kind: 'backup', count: backupLateHours(turn, overview.backupSince), names: [] },
    named(
      'stock',
      world.stocks.filter((one) => isScarce(turn, one)).map((one) => siteOf(world.programme, one.siteId).name),
    ),
    named(
      'undelivered',
      overview.undelivered.map((one) => nameOf(one.personId)).filter((name) => name !== ''),
    ),
    named('stopped', people('stopped')),
    named('off', asked ? people('suspended') : []),
    named('invited', people('invited')),
  ];
  return parts.filter((one) => one.count > 0);
}

/** Hours since the newest copy of the database, once that is too long; 0 = it is not. */
function backupLateHours({ world, now }: Turn, since: number | null): number {
  // Made in the future: the clock was set back since, and nobody knows how old it is.
  const waitMs = since === null ? 0 : Math.abs(now - since);
  return waitMs > durationOf(world.programme, 'backup-late') ? Math.floor(waitMs / hourMs) : 0;
}

function named(kind: string, names: readonly string[]): Part {
  return { kind, count: names.length, names };
}

function isScarce(turn: Turn, stock: SiteStock): boolean {
  const rules = stockRules(turn.world.programme, stock.siteId);
  return stockItems.some(
    (item) =>
      stock.lines[item] !== undefined &&
      (countOf(stock, item, turn.now, rules) !== 'enough' || expiryOf(stock, item, turn.now, rules) !== 'no'),
  );
}

const hourMs = 3_600_000;

/** People named in one part. */
const mostNames = 3;

/** Sites with figures in one report. */
const mostSites = 4;

/** Says how the line stands; in a report also how good each site's samples are. */
export function tellOverview(turn: Turn, person: Person, what: DueWhat & { kind: 'overview' }): void {
  const parts = partsOf(turn, what.for === 'report').map(({ kind, count, names }) => {
    const more = names.length > mostNames ? ` +${names.length - mostNames}` : '';
    return `${kind}=${count}=${names.slice(0, mostNames).join(', ')}${more}`;
  });
  const count = String(turn.world.overview?.openCases ?? 0);
  const state = parts.length === 0 ? 'quiet' : 'late';
  const lane = what.for === 'digest' ? 'notice' : 'reply';
  const vars = { parts: parts.join(';'), count, head: what.head };
  turn.say(person, `digest.${what.for}-${state}`, { frame: null, caseId: null, vars, lane });
  if (what.for === 'digest') sayStanding(turn, person, what.unsigned);
  if (what.for === 'report') {
    const figures = figuresOf(turn.world.overview?.lately ?? []);
    for (const one of figures.slice(0, mostSites)) {
      const shown = { figures: JSON.stringify(one) };
      turn.say(person, one.results === 0 ? 'digest.site-no-result' : 'digest.site', {
        frame: null,
        caseId: null,
        vars: shown,
      });
    }
    sayPractised(turn, person);
    if (figures.length === 0) turn.say(person, 'digest.no-figures', { frame: null, caseId: null });
  }
  turn.disturbed = true;
}

/** Whether patients may depend on the line at all, each as one text: a trial every morning, what is unsigned on Mondays. */
function sayStanding(turn: Turn, person: Person, unsigned: Unsigned | undefined): void {
  const options = { frame: null, caseId: null, lane: 'notice' } as const;
  if (turn.world.trial) turn.say(person, 'digest.trial', options);
  if (!unsigned || (unsigned.conventions === 0 && unsigned.languages.length === 0)) return;
  const vars = { unsigned: String(unsigned.conventions), unread: unsigned.languages.join(', ') };
  turn.say(person, 'digest.unsigned', { ...options, vars });
}

/** Whoever practised lately, for a coordinator: how often, and how often to the end. */
function sayPractised(turn: Turn, person: Person): void {
  const practised = (turn.world.overview?.lately ?? []).filter((of) => of.practice);
  if (!person.roles.includes('coordinator') || practised.length === 0) return;
  const lines = [...new Set(practised.map((of) => of.ownerId))].map((id) => {
    const own = practised.filter((of) => of.ownerId === id);
    const name = turn.world.roster.find((one) => one.id === id)?.name ?? '-';
    return `${name} ${own.length} (${own.filter((of) => of.status === 'closed').length})`;
  });
  const vars = { lines: lines.sort().join(', ') };
  turn.say(person, 'digest.practised', { frame: null, caseId: null, vars });
}
