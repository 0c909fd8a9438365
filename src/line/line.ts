/** The whole line over one store: used by the service, the phone bench and `play` alike. There is no second path. */
import type { Content } from '../conversation/content.ts';
import type { Due, LineEvent, SentPicture, TextPart, Unreadable } from '../conversation/event.ts';
import type { Registry } from '../conversation/moment.ts';
import type { Address } from '../conversation/world.ts';
import { alertTextOf } from './alert-text.ts';
import { Alerts } from './alerts.ts';
import { nothingChanged } from './change.ts';
import { ClockJump } from './clock-jump.ts';
import { ComeBack } from './come-back.ts';
import { DailyFigure } from './daily-figure.ts';
import { Courier, type DeliverParts, runOutbox } from './deliver.ts';
import { type DayHead, Digests, type UnsignedNow } from './digests.ts';
import { type Handled, Handler } from './handle.ts';
import { Keeper, type KeepingStore } from './keep.ts';
import type { Channel, Clock, EpochMs, Log, Meter, PostAlert, Random, Spare, Steady, Store } from './ports.ts';
import { UnreadableCalls } from './unreadable-calls.ts';
import { runDue } from './wake.ts';
import { Watch } from './watch.ts';

export interface LineOptions {
  readonly store: Store;
  readonly content: Content;
  readonly registry: Registry;
  readonly clock: Clock;
  readonly random: Random;
  /** For waits in memory; absent = the clock, where nobody sets it. */
  readonly steady?: Steady;
  readonly log: Log;
  /** By the channel name that addresses carry. */
  readonly channels: ReadonlyMap<string, Channel>;
  /** When this database was brought back from a backup; absent = never. */
  readonly restoredAt?: number | null;
  /** Held back for alarms on a full disk; absent = nothing is. */
  readonly spare?: Spare | null;
  /** Counts what passes; absent = nobody does. */
  readonly meter?: Meter;
  /** Brings alerts to somebody outside the links; absent = nobody is there. */
  readonly postAlert?: PostAlert | null;
  /** Takes the day's head for the morning text; absent where the same play must give the same words. */
  readonly dayHead?: DayHead;
  /** What nobody signed or read, for Monday's morning text; absent = it is not said. */
  readonly unsigned?: UnsignedNow;
  /** The line runs as a trial: everybody is told, once. */
  readonly trial?: boolean;
  /** Resolves when all that came in together has been seen; absent = what is called in one go. */
  readonly gather?: () => Promise<unknown>;
}

/** What comes next: the rows that are due then, a morning text, a text that waits to be sent. */
export interface Ahead {
  readonly at: EpochMs;
  readonly due: readonly Due[];
  readonly isMorning: boolean;
  readonly isText: boolean;
}

/** Rows of one instant that are looked at ahead. */
const aheadAtMost = 20;

export class Line {
  readonly store: Store;
  readonly options: LineOptions;
  /** Called before texts that may go out are committed. */
  aboutToSend: (() => void) | null = null;
  /** The links and how far they can be trusted. */
  readonly watch: Watch;
  /** What the SMS gateway brought and could not be read. */
  readonly unreadable: UnreadableCalls;
  readonly courier: Courier;
  /** Null where nobody outside the links is told. */
  readonly alerts: Alerts | null;
  private readonly handler: Handler;
  private readonly digests: Digests;
  private readonly delivery: DeliverParts;
  private readonly figure: DailyFigure;
  private settling: Promise<void> = Promise.resolve();

  constructor(options: LineOptions) {
    this.options = options;
    this.store = options.store;
    this.handler = new Handler({ ...options, aboutToSend: () => this.aboutToSend?.() });
    this.figure = new DailyFigure(options.content.programme, options.store);
    const { dayHead = async () => null, unsigned = async () => null } = options;
    this.digests = new Digests(options.content.programme, options.store, { dayHead, unsigned });
    const { programme } = options.content;
    const telling = { ...options, handler: this.handler, programmeId: programme.id };
    const unreadable = new UnreadableCalls(telling, 'sms');
    this.unreadable = unreadable;
    this.watch = new Watch({ ...telling, programme, unreadable: () => unreadable.facts() });
    const steady = options.steady ?? (() => options.clock.now());
    this.delivery = {
      ...options,
      steady,
      jump: new ClockJump(options.clock, steady),
      failingSince: new Map(),
      programmeId: programme.id,
      isTrusted: (channel) => this.watch.isTrusted(channel),
      figure: this.figure,
    };
    this.courier = new Courier(this.delivery);
    const post = options.postAlert ?? null;
    this.alerts = post && new Alerts({ ...options, steady, post, textOf: alertTextOf(options.content) });
  }

  /**
   * A text that a channel received. `pauseMs`: since this phone's text before it, where the channel knows. Resolves once it is durable: only then may the channel answer its provider. `quoted`:
   * the message that it is a reply to, by its network's id.
   */
  hearText(
    from: Address,
    id: string,
    text: string,
    networkAt: number | null,
    moreKeys: readonly string[] = [],
    quoted: string | null = null,
    pauseMs?: number,
  ): Promise<Handled> {
    const known = {
      ...(quoted === null ? {} : { quotes: { providerId: quoted } }),
      ...(pauseMs === undefined ? {} : { pauseMs }),
    };
    return this.handler.handle({ ...this.base(id, moreKeys), kind: 'text', from, text, networkAt, ...known });
  }

  /** A network said what became of a text. */
  async noteReport(channel: string, id: string, status: 'sent' | 'delivered' | 'failed'): Promise<void> {
    this.options.meter?.reported(channel, status);
    await this.store.report(id, status, this.options.clock.now());
  }

  /**
   * Notes a further key of something that was taken before: a text that its network delivered again under a new id, so
   * that whoever compares ids later does not miss it. A comfort: never rejects.
   */
  async noteKey(key: string): Promise<void> {
    const { content, clock } = this.options;
    const change = nothingChanged(key, content.programme.id, clock.now());
    await this.store.commit([change]).catch(() => undefined);
  }

  /** A part of a long text, where the network does not join them: read when all are there. */
  hearPart(
    from: Address,
    id: string,
    part: TextPart,
    text: string,
    moreKeys: readonly string[] = [],
  ): Promise<Handled> {
    return this.handler.handle({ ...this.base(id, moreKeys), kind: 'unreadable', from, why: 'part', text, part });
  }

  /** Something that is no whole text; `text` is what of it can be read. */
  hearUnreadable(
    from: Address,
    id: string,
    why: Unreadable,
    text: string,
    more: { readonly picture?: SentPicture; readonly album?: string } = {},
  ): Promise<Handled> {
    return this.handler.handle({ ...this.base(id, []), kind: 'unreadable', from, why, text, ...more });
  }

  /** A tap on a button. */
  hearTap(from: Address, id: string, token: string, reply: string): Promise<Handled> {
    return this.handler.handle({ ...this.base(id, []), kind: 'tap', from, token, reply });
  }

  /** Keeps to the programme's times of keeping; `steady` grows with time whatever happens to the clock. */
  keeper(keeping: KeepingStore, steady: Steady): Keeper {
    const { programme } = this.options.content;
    return new Keeper({
      ...this.options,
      handler: this.handler,
      programme,
      programmeId: programme.id,
      keeping,
      steady,
    });
  }

  private get dueParts(): Parameters<typeof runDue>[0] {
    return { ...this.options, handler: this.handler, digests: this.digests, figure: this.figure };
  }

  private base(
    id: string,
    moreKeys: readonly string[],
  ): Pick<LineEvent, 'id' | 'programmeId' | 'keys' | 'at' | 'seed'> {
    return {
      id,
      programmeId: this.options.content.programme.id,
      keys: [id, ...moreKeys],
      at: this.options.clock.now(),
      seed: this.options.random.bytes(16),
    };
  }

  /** Handles what is due now, and sends nothing. Returns the next instant, or null. */
  async settleDue(): Promise<number | null> {
    return runDue(this.dueParts, this.options.clock.now());
  }

  /** What comes next without anybody's doing; null: nothing does. Handles and takes nothing. */
  async ahead(): Promise<Ahead | null> {
    const { store, clock } = this.options;
    const due = await store.firstDue(aheadAtMost);
    const dueAt = due[0]?.dueAt ?? null;
    const [morningAt, textAt] = [await this.digests.nextAt(clock.now()), await store.nextOutboxAt()];
    const instants = [dueAt, morningAt, textAt].filter((one) => one !== null);
    if (instants.length === 0) return null;
    const at = Math.min(...instants);
    return { at, due: dueAt === at ? due : [], isMorning: morningAt === at, isText: textAt === at };
  }

  /** Tells whoever is in the middle of something that the line is back, after an outage of at least `leastMs`. */
  comeBack(leastMs: number): ComeBack {
    const programmeId = this.options.content.programme.id;
    return new ComeBack({ ...this.options, handler: this.handler, programmeId }, leastMs);
  }

  /**
   * Handles what is due, sends what may go, until nothing is left for this instant. Returns the next instant, or null.
   * Calls come one after the other.
   */
  settle(): Promise<number | null> {
    const settled = this.settling.then(() => this.settleNow());
    this.settling = settled.then(
      () => undefined,
      () => undefined,
    );
    return settled;
  }

  private async settleNow(): Promise<number | null> {
    const { store, clock } = this.options;
    for (;;) {
      await this.handler.idle();
      const now = clock.now();
      const dueAt = await runDue(this.dueParts, now);
      const sent = await runOutbox(this.delivery);
      const outAt = await store.nextOutboxAt();
      const dueAgain = await store.nextDueAt();
      const next = [dueAt, outAt, dueAgain].filter((one): one is number => one !== null);
      if (sent === 0 && !next.some((one) => one <= now)) return next.length === 0 ? null : Math.min(...next);
      if (sent === 0 && next.every((one) => one > now || one === dueAt)) return Math.min(...next);
    }
  }

  /** Resolves when no event is being handled. */
  idle(): Promise<void> {
    return this.handler.idle();
  }
}
