/** The real line over a real store with a clock of its own, and the phones of a programme: all that is said is kept. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type Case, evolve, noCase } from '../../src/case/case.ts';
import { seededRandom } from '../../src/cli/player.ts';
import type { Content } from '../../src/content/load.ts';
import { dueAtOf } from '../../src/conversation/duties.ts';
import { registry } from '../../src/conversation/matters.ts';
import type { Question } from '../../src/conversation/state.ts';
import type { Person } from '../../src/conversation/world.ts';
import { Line } from '../../src/line/line.ts';
import type { ChangeSet, Channel, OutboundMessage, Store } from '../../src/line/ports.ts';
import { openKeyRing } from '../../src/store/keys.ts';
import { openStore } from '../../src/store/open.ts';
import type { Chance } from '../simulation/chance.ts';
import { Ledger } from '../support/claims/ledger.ts';
import { type Ask, type Entry, type Recorded, type Role, readable, type Slip } from './transcript.ts';

/** Somebody with a phone. */
export interface Agent {
  readonly person: Person;
  readonly role: Role;
  /** What the phone shows, after all of one instant has arrived. */
  hear(messages: readonly OutboundMessage[]): void;
}

/** What a person is about to send, and how it is meant. */
export interface Spoken {
  readonly text: string;
  readonly ids?: readonly string[];
  readonly slip?: Slip;
  readonly ask?: Ask | null;
  readonly askStep?: string;
  readonly caseId?: string | null;
  /** So long the network kept it, ms. */
  readonly lateMs?: number;
}

interface Planned {
  readonly at: number;
  readonly order: number;
  readonly who: string;
  readonly say: () => Spoken | null;
}

/** More texts within one minute than this are a loop. */
const mostAtOnce = 600;

/** Twenty patients say and are told a tenth of this; slow doctors and nodes that are needled again and again took 22,700 once. */
const mostEntries = 40_000;

export class Town {
  readonly agents = new Map<string, Agent>();
  readonly cases = new Map<string, Case>();
  readonly questions = new Map<string, Question>();
  readonly entries: Entry[] = [];
  readonly faults: string[] = [];
  /** What is said, held against what is recorded. */
  readonly ledger = new Ledger();
  readonly chance: Chance;
  now: number;
  /** Told of everything that was recorded. */
  onRecord: (recorded: Recorded, isNew: boolean) => void = () => undefined;
  private readonly plans: Planned[] = [];
  private readonly arrived = new Map<string, OutboundMessage[]>();
  private readonly folder = mkdtempSync(join(tmpdir(), 'neckline-walker-'));
  private readonly content: Content;
  private readonly seed: number;
  private store: Store | null = null;
  private line: Line | null = null;
  private order = 0;
  private messages = 0;
  private speaker = 'line';

  constructor(content: Content, seed: number, chance: Chance, startsAt: number) {
    this.content = content;
    this.seed = seed;
    this.chance = chance;
    this.now = startsAt;
  }

  async open(agents: readonly Agent[]): Promise<void> {
    for (const agent of agents) this.agents.set(agent.person.id, agent);
    const { programme } = this.content;
    const file = join(this.folder, 'walker.db');
    const store = await openStore({
      url: `sqlite:${file}`,
      keys: openKeyRing(`${file}.key`),
      dueAtOf: (of) => dueAtOf(programme, of),
      exclusive: false,
    });
    this.store = this.watched(this.ledger.watch(store));
    await this.store.putPeople(agents.map(({ person }) => person));
    const channel = (name: 'sms' | 'telegram'): Channel => ({
      name,
      maxText: 0,
      buttons: false,
      images: false,
      reports: false,
      send: async (message) => {
        this.arrive(message);
        return { kind: 'sent' };
      },
    });
    this.line = new Line({
      store: this.store,
      content: this.content,
      registry,
      clock: { now: () => this.now },
      random: seededRandom(this.seed),
      log: {
        write: (level, event, fields) =>
          void (level === 'error' && this.faults.push(`${event} ${JSON.stringify(fields)}`)),
      },
      channels: new Map((['sms', 'telegram'] as const).map((name) => [name, channel(name)])),
    });
  }

  /** Everybody of the programme as they stand now, those off the line too. */
  async roster(): Promise<readonly Person[]> {
    return this.store!.roster(this.content.programme.id);
  }

  async close(): Promise<void> {
    await this.store?.close();
    rmSync(this.folder, { recursive: true, force: true });
  }

  /** Plans a text of a person; null when it is no longer wanted by then. */
  plan(who: string, afterMs: number, say: () => Spoken | null): void {
    this.order += 1;
    this.plans.push({ at: this.now + Math.max(1000, afterMs), order: this.order, who, say });
  }

  /** Lives until an instant, or until nothing is wanted any more. */
  async live(until: number, isOver: () => boolean = () => false): Promise<void> {
    const line = this.line!;
    let minute = 0;
    let atOnce = 0;
    let next: number | null = null;
    let isSettled = false;
    for (;;) {
      if (!isSettled) {
        next = await line.settle();
        this.show();
        if (isOver()) {
          this.ledger.settle();
          return;
        }
      }
      isSettled = false;
      this.plans.sort((a, b) => a.at - b.at || a.order - b.order);
      const plan = this.plans[0];
      const at = Math.min(plan?.at ?? until, next === null ? until : Math.max(next, this.now + 1));
      if (at >= until) break;
      this.now = Math.max(this.now, at);
      atOnce = Math.floor(this.now / 60_000) === minute ? atOnce + 1 : 0;
      minute = Math.floor(this.now / 60_000);
      if (this.entries.length > mostEntries) throw new Error(`no end: ${readable(this.entries.slice(-20))}`);
      if (atOnce > mostAtOnce) throw new Error(`a loop at ${new Date(this.now).toISOString()}`);
      if (plan && plan.at <= this.now) {
        this.plans.shift();
        // What was no longer wanted changes nothing.
        isSettled = !(await this.send(plan));
      }
    }
    this.now = until;
    await line.settle();
    this.show();
    this.ledger.settle();
  }

  /** False: nothing was said. */
  private async send({ who, say }: Planned): Promise<boolean> {
    const spoken = say();
    if (spoken === null) return false;
    const { person, role } = this.agents.get(who)!;
    const times = spoken.slip === 'doubled' ? 2 : 1;
    for (let time = 0; time < times; time += 1) {
      if (time > 0) this.now += 3000;
      this.messages += 1;
      this.entries.push({
        kind: 'sent',
        at: this.now,
        by: who,
        role,
        text: spoken.text,
        ask: spoken.ask ?? null,
        askStep: spoken.askStep ?? '',
        caseId: spoken.caseId ?? null,
        ids: spoken.ids ?? [],
        slip: spoken.slip ?? 'none',
      });
      this.speaker = who;
      const sentAt = this.now - (spoken.lateMs ?? 0);
      const id = `walk:${this.messages}`;
      const logged = this.faults.length;
      const handled = await this.line!.hearText(person.addresses[0]!, id, spoken.text, sentAt);
      this.speaker = 'line';
      if (handled !== 'failed' && handled !== 'parked') continue;
      // One line for all that the log says of it.
      const why = this.faults.splice(logged).join(' ');
      this.faults.push(`${handled} at ${spoken.askStep ?? '-'}: ${who}> ${spoken.text} (${why})`);
    }
    return true;
  }

  private arrive(message: OutboundMessage): void {
    const to = message.personId ?? message.to.address;
    this.entries.push({
      kind: 'said',
      at: this.now,
      to,
      role: this.agents.get(to)?.role ?? 'worker',
      text: message.text,
      segments: message.segments,
      flow: message.flow,
      step: message.step,
      caseId: message.caseId,
      code: message.code,
      ask: message.ask,
    });
    this.arrived.set(to, [...(this.arrived.get(to) ?? []), message]);
  }

  private show(): void {
    const batches = [...this.arrived];
    this.arrived.clear();
    for (const [who, messages] of batches) this.agents.get(who)?.hear(messages);
  }

  private keep(change: ChangeSet): void {
    for (const { value, version, records } of change.cases) {
      let after = this.cases.get(value.id) ?? noCase(value.id, value.programmeId);
      this.cases.set(value.id, value);
      records.forEach((record, index) => {
        const by = this.speaker;
        after = evolve(after, record);
        if (record.event.type === 'opened') this.bindSent(value.id);
        const recorded: Recorded = { kind: 'recorded', at: this.now, caseId: value.id, record, after, by };
        this.entries.push(recorded);
        this.onRecord(recorded, version === null && index === 0);
      });
    }
    for (const { value } of change.questions) this.questions.set(value.id, value);
  }

  /** The text that opened a case is about it. */
  private bindSent(caseId: string): void {
    const at = this.entries.findLastIndex((one) => one.kind === 'sent');
    const opening = this.entries[at];
    if (opening?.kind === 'sent' && opening.caseId === null) this.entries[at] = { ...opening, caseId };
  }

  /** The store, with what is committed kept at hand. */
  private watched(store: Store): Store {
    const commit: Store['commit'] = async (changes) => {
      const outcomes = await store.commit(changes);
      changes.forEach((change, index) => {
        if (outcomes[index] === 'committed') this.keep(change);
      });
      return outcomes;
    };
    return new Proxy(store, {
      get: (of, name) => {
        if (name === 'commit') return commit;
        const value = Reflect.get(of, name) as unknown;
        return typeof value === 'function' ? value.bind(of) : value;
      },
    });
  }
}
