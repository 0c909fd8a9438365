/**
 * The one door in: whatever happens becomes an event, one step, one commit. The caller may answer its provider after
 * `handle` resolves with `done`, and must not before.
 */

import { patientKeyOf } from '../case/same-patient.ts';
import type { Content } from '../conversation/content.ts';
import type { StepResult } from '../conversation/effect.ts';
import type { LineEvent } from '../conversation/event.ts';
import type { Registry } from '../conversation/moment.ts';
import { networkAtOf } from '../conversation/parts.ts';
import { freshState } from '../conversation/state.ts';
import { step } from '../conversation/step.ts';
import type { Person, World } from '../conversation/world.ts';
import { errorCode } from '../text/error-code.ts';
import { countSegments } from '../text/segments.ts';
import { placeOf } from './fault-place.ts';
import { isAlarm } from './is-alarm.ts';
import type {
  ChangeSet,
  CommitOutcome,
  Loaded,
  Log,
  Meter,
  OutboundMessage,
  Random,
  Spare,
  Steady,
  Store,
} from './ports.ts';
import { goesOnReserve } from './reserve.ts';
import { setAside } from './set-aside.ts';

/** What became of an event. `failed`: nothing is stored, the provider must deliver it again. */
export type Handled = 'done' | 'duplicate' | 'parked' | 'failed';

export interface LineParts {
  readonly store: Store;
  readonly content: Content;
  readonly registry: Registry;
  readonly random: Random;
  readonly log: Log;
  /** Counts what came in; times it by `steady`. */
  readonly meter?: Meter;
  readonly steady?: Steady;
  /** When this database was brought back from a backup; absent = never. */
  readonly restoredAt?: number | null;
  /** The line runs as a trial; absent = it does not. */
  readonly trial?: boolean;
  /** Held back for alarms on a full disk; absent = nothing is. */
  readonly spare?: Spare | null;
  /** Handles again what is kept for a human already: where it fails again, nothing is written. */
  readonly retries?: boolean;
  /** Resolves when all that came in together has been seen: they share a commit; absent = what is called in one go. */
  readonly gather?: () => Promise<unknown>;
  /** Called before texts that may go out are committed: whoever claims in the same turn of the loop has them by that commit. */
  aboutToSend?(): void;
}

/** Events in one durable commit at the most. */
const groupAtMost = 32;
/** Times a conflict is read and stepped again before the event is parked: on a server other lines write the same rows. */
const triesAtMost = 12;

interface Waiting {
  readonly event: LineEvent;
  readonly alarm: boolean;
  readonly settle: (handled: Handled) => void;
}

/** Handles events in order of arrival, those of different people together. Never throws. */
export class Handler {
  private readonly parts: LineParts;
  private readonly waiting: Waiting[] = [];
  private running: Promise<void> | null = null;

  constructor(parts: LineParts) {
    this.parts = parts;
  }

  /** Resolves when the event is durable (or refused). Events of one person are handled in the order of their calls. */
  handle(event: LineEvent): Promise<Handled> {
    const { meter, steady } = this.parts;
    const since = steady?.() ?? 0;
    return new Promise((settle) => {
      const alarm = isAlarm(event, this.languages);
      const settled = (handled: Handled): void => {
        if (event.kind !== 'due') meter?.heard(event.from.channel, handled, (steady?.() ?? 0) - since);
        settle(handled);
      };
      this.waiting.push({ event, alarm, settle: settled });
      if (!this.running) this.running = this.drain();
    });
  }

  /** What people write in danger, in every language. */
  private get languages(): ReturnType<Content['texts']['alarmWords']> {
    return this.parts.content.texts.alarmWords(null);
  }

  /** Resolves when nothing waits. */
  async idle(): Promise<void> {
    while (this.running) await this.running;
  }

  private async drain(): Promise<void> {
    const gather = this.parts.gather ?? (() => Promise.resolve());
    while (this.waiting.length > 0) {
      // Between two groups others have their turn: what was answered goes out, an alarm comes in.
      await gather();
      const group = this.nextGroup();
      const results = await this.handleGroup(group.map((one) => one.event));
      group.forEach((one, index) => {
        one.settle(results[index]!);
      });
    }
    // In the same turn as the last look at `waiting`: an event that comes now starts the next run.
    this.running = null;
  }

  /** What waits, one event per sender and per case, first aid first. */
  private nextGroup(): readonly Waiting[] {
    const order = [...this.waiting.filter((one) => one.alarm), ...this.waiting.filter((one) => !one.alarm)];
    const taken: Waiting[] = [];
    const busy = new Set<string>();
    for (const one of order) {
      const marks = marksOf(one.event);
      const free = !marks.some((mark) => busy.has(mark));
      for (const mark of marks) busy.add(mark);
      if (free && taken.length < groupAtMost) taken.push(one);
    }
    const set = new Set(taken);
    const left = this.waiting.filter((one) => !set.has(one));
    this.waiting.splice(0, this.waiting.length, ...left);
    return taken;
  }

  private async handleGroup(events: readonly LineEvent[]): Promise<Handled[]> {
    const results: Handled[] = events.map(() => 'failed');
    let open = events.map((event, index) => ({ event, index }));
    for (let tries = 0; open.length > 0; tries += 1) {
      const before = this.onReserve;
      const attempt = await this.attempt(open.map((one) => withTry(one.event, tries)));
      const again: typeof open = [];
      for (const [position, one] of open.entries()) {
        const outcome = attempt[position]!;
        if (outcome === 'committed') results[one.index] = 'done';
        else if (outcome === 'duplicate') results[one.index] = 'duplicate';
        else if (outcome === 'conflict' && tries < triesAtMost) again.push(one);
        else if (outcome === 'unavailable' && !before && this.onReserve) again.push(one);
        else if (outcome === 'unavailable') results[one.index] = 'failed';
        else if ((outcome === 'broken' || outcome === 'failed') && tries < 1) again.push(one);
        else results[one.index] = this.parts.retries ? 'failed' : await setAside(this.parts, one.event, outcome);
      }
      open = again;
    }
    return results;
  }

  /** The disk is full, and room is left for alarms only. */
  private get onReserve(): boolean {
    return this.parts.spare?.inUse ?? false;
  }

  private async attempt(events: readonly LineEvent[]): Promise<(CommitOutcome | 'broken')[]> {
    const { store, log, content } = this.parts;
    let loaded: readonly Loaded[];
    try {
      loaded = await store.load(events, content.flows);
    } catch (error) {
      const code = errorCode(error);
      log.write('error', 'load-failed', { code, count: events.length });
      if (code === 'unavailable') return events.map(() => 'unavailable');
      // What of one person cannot be read must not stop the others.
      if (events.length > 1) return (await Promise.all(events.map((event) => this.attempt([event])))).flat();
      return ['failed'];
    }
    const outcomes: (CommitOutcome | 'broken')[] = events.map(() => 'broken');
    const changes: { position: number; change: ChangeSet }[] = [];
    const known = new Map<string, Promise<readonly [readonly Person[], number]>>();
    for (const [position, event] of events.entries()) {
      const from = loaded[position]!;
      if (from.duplicate) {
        outcomes[position] = 'duplicate';
        continue;
      }
      try {
        const ofProgramme = known.get(event.programmeId) ?? this.programmeNow(event.programmeId);
        known.set(event.programmeId, ofProgramme);
        const [roster, issued] = await ofProgramme;
        this.noteLost(event, from);
        const taken = (read: Loaded) => step(worldOf(this.parts, read, roster, issued), event, this.parts.registry);
        const first = taken(from);
        // Who a patient is stands in the step's result only: where the site knows somebody alike, it is taken again.
        const alike = await likePatients(store, event, from, first);
        const read = alike.length === 0 ? from : { ...from, cases: [...from.cases, ...alike] };
        const result = alike.length === 0 ? first : taken(read);
        const change = changeOf(event, read, result);
        if (this.onReserve && !goesOnReserve(event, change, this.languages)) outcomes[position] = 'unavailable';
        else changes.push({ position, change });
      } catch (error) {
        if (errorCode(error) === 'unavailable') outcomes[position] = 'unavailable';
        log.write('error', 'step-failed', {
          event: event.id,
          kind: event.kind,
          code: errorCode(error),
          at: placeOf(error),
        });
      }
    }
    if (changes.length > 0) {
      if (changes.some((one) => one.change.outbox.length > 0)) this.parts.aboutToSend?.();
      const committed = await store.commit(changes.map((one) => one.change)).catch((error: unknown) => {
        log.write('error', 'commit-failed', { code: errorCode(error), count: changes.length });
        return changes.map(() => 'failed' as const);
      });
      changes.forEach((one, index) => {
        outcomes[one.position] = committed[index]!;
      });
    }
    return outcomes;
  }

  /** Who is on the roster, and how many codes were issued: read once for a group, which is committed at once. */
  private async programmeNow(programmeId: string): Promise<readonly [readonly Person[], number]> {
    const { store } = this.parts;
    return [await store.roster(programmeId), await store.codesIssued(programmeId)];
  }

  /** What was left out is never left out silently. */
  private noteLost({ id, kind }: LineEvent, { lost, person }: Loaded): void {
    const { log } = this.parts;
    for (const one of lost.cases)
      log.write('warn', 'case-left-out', { event: id, kind, code: one.why, message: one.id });
    if (lost.conversation) log.write('error', 'conversation-left-out', { event: id, kind, message: person?.id ?? '-' });
  }
}

/** The marks by which two events would touch the same rows. */
function marksOf(event: LineEvent): string[] {
  if (event.kind !== 'due') {
    const codes = wordsOf(event).match(/\d{4}[\s-]?\d{4}/g) ?? [];
    return [`a:${event.from.channel}:${event.from.address}`, ...codes.map((code) => `k:${code.replace(/\D/g, '')}`)];
  }
  const { personId, caseId } = event.due;
  return [...(personId === null ? [] : [`p:${personId}`]), ...(caseId === null ? [] : [`c:${caseId}`])];
}

function wordsOf(event: Exclude<LineEvent, { kind: 'due' }>): string {
  return event.kind === 'tap' ? event.reply : event.text;
}

/** A step that is taken again draws anew, so that a code that was just taken is not drawn twice. */
function withTry(event: LineEvent, tries: number): LineEvent {
  if (tries === 0) return event;
  const seed = event.seed.map((byte, index) => (index === 15 ? (byte + tries) & 255 : byte));
  return { ...event, seed };
}

/** Cases of the site that could be of the same patient as one whose patient this step has named; those at hand are left out. */
async function likePatients(
  store: Store,
  event: LineEvent,
  from: Loaded,
  result: StepResult,
): Promise<Loaded['cases']> {
  const found = new Map<string, Loaded['cases'][number]>();
  for (const { value, records } of result.cases) {
    const named = records.some((one) => one.event.type === 'opened' || one.event.type === 'retagged');
    const key = named && value.earlierCaseId === null ? patientKeyOf(value) : null;
    if (!key) continue;
    for (const one of await store.casesAlike(event.programmeId, key)) found.set(one.value.id, one);
  }
  for (const { value } of from.cases) found.delete(value.id);
  return [...found.values()];
}

/** What a step sees: what was loaded for the event, and what the line knows by itself. */
export function worldOf(
  { content, restoredAt, trial }: Pick<LineParts, 'content' | 'restoredAt' | 'trial'>,
  from: Loaded,
  roster: readonly Person[],
  codesIssued: number,
): World {
  return {
    programme: content.programme,
    flows: content.flows,
    texts: content.texts,
    quick: content.quick,
    roster,
    person: from.person,
    conversation: from.conversation?.state ?? freshState,
    cases: from.cases.map((one) => one.value),
    briefs: from.briefs,
    questions: from.questions,
    tagsInUse: from.tagsInUse,
    invitation: from.invitation,
    handedAt: from.handedAt,
    reportedAt: from.reportedAt,
    quotedToken: from.quotedToken,
    strangersToday: from.strangersToday,
    firstAidGiven: from.firstAidGiven,
    doings: from.doings,
    lost: from.lost,
    restoredAt: restoredAt ?? null,
    trial: trial ?? false,
    codesIssued,
    overview: from.overview,
    stocks: from.stocks.map((one) => one.value),
  };
}

/** A step's result as rows. */
function changeOf(event: LineEvent, from: Loaded, result: StepResult): ChangeSet {
  const versions = new Map(from.cases.map((one) => [one.value.id, one.version]));
  const outbox: OutboundMessage[] = result.says.map((said) => {
    const { segments, encoding } = countSegments(said.text);
    return { ...said, at: event.at, segments, encoding };
  });
  return {
    eventId: event.id,
    programmeId: event.programmeId,
    at: event.at,
    keys: [...event.keys, ...result.onceKeys],
    inbound:
      event.kind === 'due'
        ? null
        : {
            address: event.from,
            personId: from.person?.id ?? null,
            // A text that opens a case is the case's: it goes when the case is erased.
            caseId: result.aboutCaseId ?? result.cases.find((one) => one.isNew)?.value.id ?? null,
            text: wordsOf(event),
            networkAt: networkAtOf(event),
          },
    conversation:
      result.state && result.personId
        ? { personId: result.personId, state: result.state, version: from.conversation?.version ?? null }
        : null,
    cases: result.cases.map((one) => ({
      value: one.value,
      version: one.isNew ? null : (versions.get(one.value.id) ?? null),
      records: one.records,
    })),
    outbox,
    due: result.due,
    cancelDue: result.cancelDue,
    hurry: result.hurry,
    doneDue: event.kind === 'due' && event.due.what.kind !== 'overdue' ? event.due.id : null,
    questions: result.questions,
    people: result.people,
    stocks: result.stocks.map((value) => ({
      value,
      version: from.stocks.find((one) => one.value.siteId === value.siteId)?.version ?? null,
    })),
    strangerAnswer: result.strangerAnswer,
    credits: result.credits,
    parked: null,
  };
}
