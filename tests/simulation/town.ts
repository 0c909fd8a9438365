/** A programme in a simulated month: the real line over a real store, with people who answer what they are asked. */
import { createHash } from 'node:crypto';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Case } from '../../src/case/case.ts';
import { seededRandom } from '../../src/cli/player.ts';
import { dueAtOf } from '../../src/conversation/duties.ts';
import { registry } from '../../src/conversation/matters.ts';
import type { Question } from '../../src/conversation/state.ts';
import type { Person } from '../../src/conversation/world.ts';
import { Line } from '../../src/line/line.ts';
import type { Channel, OutboundMessage, Store } from '../../src/line/ports.ts';
import { openKeyRing } from '../../src/store/keys.ts';
import { openStore } from '../../src/store/open.ts';
import { countSegments } from '../../src/text/segments.ts';
import { probe } from '../probe/probe.ts';
import { Ledger } from '../support/claims/ledger.ts';
import { shipped } from '../support/shipped.ts';
import type { Chance } from './chance.ts';

export const townContent = shipped;

/** Somebody with a phone. */
export interface Agent {
  readonly person: Person;
  /** What the phone shows, after everything of this instant has arrived. */
  hear(messages: readonly OutboundMessage[]): void;
}

interface Planned {
  readonly at: number;
  readonly order: number;
  readonly who: string;
  /** Null when it is no longer wanted by then. */
  readonly text: () => string | null;
  /** How long the network keeps it, ms. */
  readonly heldMs: number;
  readonly twice: boolean;
}

export interface Figures {
  readonly messagesIn: number;
  readonly messagesOut: number;
  readonly segments: number;
}

/** A minute of a phone never carries more texts than this: more is a loop, and the simulation ends. */
const mostAtOnce = 400;

export class Town {
  readonly agents = new Map<string, Agent>();
  readonly cases = new Map<string, Case>();
  readonly questions = new Map<string, Question>();
  readonly sent: OutboundMessage[] = [];
  readonly faults: string[] = [];
  /** What is said, held against what is recorded. */
  readonly ledger = new Ledger();
  readonly chance: Chance;
  people: readonly Person[] = [];
  /** Who says nothing (any more), whatever they meant to say. */
  mute: (who: string, now: number) => boolean = () => false;
  now: number;
  private readonly plans: Planned[] = [];
  private readonly arrived = new Map<string, OutboundMessage[]>();
  private readonly heard: { readonly at: number; readonly who: string; readonly text: string }[] = [];
  // A town lives in memory where it can: what it proves is not the disk.
  private readonly folder = mkdtempSync(join(tmpdir(), 'neckline-town-'));
  private readonly seed: number;
  private line: Line | null = null;
  private store: Store | null = null;
  private order = 0;
  private messages = 0;
  private readonly trace = createHash('sha256');

  constructor(seed: number, chance: Chance, startsAt: number) {
    this.seed = seed;
    this.chance = chance;
    this.now = startsAt;
  }

  async open(agents: readonly Agent[]): Promise<void> {
    for (const agent of agents) this.agents.set(agent.person.id, agent);
    const { programme } = townContent;
    const file = join(this.folder, 'town.db');
    const store = await openStore({
      url: `sqlite:${file}`,
      keys: openKeyRing(`${file}.key`),
      dueAtOf: (of) => dueAtOf(programme, of),
      exclusive: false,
    });
    this.store = this.watched(this.ledger.watch(store));
    await this.store.putPeople(agents.map((one) => one.person));
    const channel: Channel = {
      name: 'sms',
      maxText: 0,
      buttons: false,
      images: false,
      reports: true,
      send: async (message) => this.arrive(message),
    };
    this.line = new Line({
      store: this.store,
      content: townContent,
      registry,
      clock: { now: () => this.now },
      random: seededRandom(this.seed),
      log: {
        write: (level, event, fields) => {
          if (level === 'error') this.faults.push(`${event} ${JSON.stringify(fields)}`);
        },
      },
      channels: new Map([['sms', channel]]),
    });
  }

  /** What of an SOS of everybody is not heard as things stand now. */
  async sosUnheard(): Promise<readonly string[]> {
    const file = join(this.folder, 'town.db');
    return (await probe({ file, keys: openKeyRing(`${file}.key`), content: townContent, at: this.now })).faults;
  }

  async close(): Promise<void> {
    await this.store?.close();
    rmSync(this.folder, { recursive: true, force: true });
  }

  /** Plans a text of a person. */
  plan(who: string, afterMs: number, text: () => string | null, more: { heldMs?: number; twice?: boolean } = {}): void {
    this.order += 1;
    const { heldMs = 0, twice = false } = more;
    this.plans.push({ at: this.now + Math.max(1000, afterMs) + heldMs, order: this.order, who, text, heldMs, twice });
  }

  /** Lives until an instant: texts and due rows in the order of their instants. */
  async live(until: number): Promise<void> {
    const line = this.line!;
    let before = this.now;
    let atOnce = 0;
    for (;;) {
      const next = await line.settle();
      this.show();
      this.plans.sort((a, b) => a.at - b.at || a.order - b.order);
      const plan = this.plans[0];
      const at = Math.min(plan?.at ?? until, next === null ? until : Math.max(next, this.now + 1));
      if (at >= until) break;
      this.now = Math.max(this.now, at);
      atOnce = this.now - before > 60_000 ? 0 : atOnce + 1;
      before = atOnce === 0 ? this.now : before;
      if (atOnce > mostAtOnce) throw new Error(`a loop at ${new Date(this.now).toISOString()}`);
      if (plan && plan.at <= this.now) {
        this.plans.shift();
        await this.send(plan);
      }
    }
    this.now = until;
    await line.settle();
    this.show();
    this.ledger.settle();
  }

  private async send(plan: Planned): Promise<void> {
    if (this.mute(plan.who, this.now)) return;
    const text = plan.text();
    if (text === null) return;
    this.messages += 1;
    const id = `town:${this.messages}`;
    const { person } = this.agents.get(plan.who)!;
    const networkAt = this.now - plan.heldMs;
    for (let times = plan.twice ? 2 : 1; times > 0; times -= 1) {
      this.heard.push({ at: this.now, who: plan.who, text });
      this.trace.update(`${this.now}|${plan.who}>${text}\n`);
      const handled = await this.line!.hearText(person.addresses[0]!, id, text, networkAt);
      if (handled === 'failed' || handled === 'parked') this.faults.push(`${handled}: ${plan.who}> ${text}`);
    }
  }

  private async arrive(message: OutboundMessage): Promise<{ kind: 'sent' }> {
    this.sent.push(message);
    this.trace.update(`${this.now}|${message.personId}<${message.text}\n`);
    const who = message.personId ?? message.to.address;
    this.arrived.set(who, [...(this.arrived.get(who) ?? []), message]);
    await this.store!.report(message.id, 'delivered', this.now);
    return { kind: 'sent' };
  }

  private show(): void {
    const batches = [...this.arrived];
    this.arrived.clear();
    for (const [who, messages] of batches) this.agents.get(who)?.hear(messages);
  }

  /** The store, with what is committed kept at hand for the checks. */
  private watched(store: Store): Store {
    const commit: Store['commit'] = async (changes) => {
      const outcomes = await store.commit(changes);
      changes.forEach((change, index) => {
        if (outcomes[index] !== 'committed') return;
        for (const one of change.cases) this.cases.set(one.value.id, one.value);
        for (const one of change.questions) this.questions.set(one.value.id, one.value);
        for (const one of change.people) {
          if (one.kind !== 'put-person') continue;
          this.people = [...this.people.filter((each) => each.id !== one.person.id), one.person];
        }
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

  figures(): Figures {
    return {
      messagesIn: this.heard.length,
      messagesOut: this.sent.length,
      segments: this.sent.reduce((sum, one) => sum + countSegments(one.text).segments, 0),
    };
  }

  /** Everything said, hashed. */
  fingerprint(): string {
    return this.trace.copy().digest('hex');
  }

  /** What was said to and by a person about nothing but in order: for reading when a check fails. */
  transcript(caseId: string | null = null): string {
    const out = this.sent
      .filter((one) => caseId === null || one.caseId === caseId)
      .map((one) => ({ at: one.at, line: `${one.personId}< ${one.text.replaceAll('\n', ' / ')}` }));
    const people = new Set(this.sent.filter((one) => one.caseId === caseId).map((one) => one.personId));
    const inn = this.heard
      .filter((one) => caseId === null || people.has(one.who))
      .map((one) => ({ at: one.at, line: `${one.who}> ${one.text}` }));
    return [...inn, ...out]
      .sort((a, b) => a.at - b.at)
      .map((one) => `${new Date(one.at).toISOString().slice(5, 16)} ${one.line}`)
      .join('\n');
  }
}
