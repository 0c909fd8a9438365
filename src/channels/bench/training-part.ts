/** Scenarios on the bench: they begin on an empty line, the others answer by themselves, and what was right is said. */
import { randomBytes } from 'node:crypto';
import type { Line } from '../../line/line.ts';
import type { Clock } from '../../line/ports.ts';
import type { Words } from '../../text/say-word.ts';
import { countSegments } from '../../text/segments.ts';
import type { Part, Training } from '../../training/scenario.ts';
import type { BenchChannel } from './channel.ts';
import { type Answer, type Asked, type BenchPart, ok, refused, type Tell } from './part.ts';
import { type Cast, castOf } from './training/cast.ts';
import { type NextText, Rehearsal } from './training/rehearsal.ts';
import { listOf, type ScenarioState, stateOf } from './training/shown.ts';
import { sayFirst } from './words.ts';

/** What a run stands on; another one after each reset. */
export interface TrainingLine {
  readonly line: Line;
  readonly clock: Clock;
  readonly channel: BenchChannel;
  readonly nudge: () => void;
}

export interface TrainingOptions {
  readonly training: Training;
  readonly words: Words;
  readonly tell: Tell;
  /** Empties the line and begins anew in the morning; false: it cannot. `attach` is called with the new one meanwhile. */
  readonly reset: () => Promise<boolean>;
}

/** Longest sleep until somebody answers by themselves, ms of real time: the clock may be moved meanwhile. */
const longestSleepMs = 30_000;
/** Pause before somebody answers who is due, ms of real time: a text of several screens has come by then. */
const shortestSleepMs = 150;
/** More answers by themselves in one instant are a loop. */
const mostAtOnce = 100;

export class TrainingPart implements BenchPart {
  readonly get = {
    '/scenarios': async () => ok(await this.list()),
    '/scenario': async () => ok(this.state()),
  };
  readonly post = {
    '/scenario/begin': (asked: Asked) => this.begin(asked.body.id),
    '/scenario/auto': (asked: Asked) => this.setAuto(asked.body),
    '/scenario/end': () => this.finish(),
  };
  private readonly options: TrainingOptions;
  private on: TrainingLine | null = null;
  private rehearsal: Rehearsal | null = null;
  private auto = true;
  private stopListening: () => void = () => undefined;
  private timer: ReturnType<typeof setTimeout> | null = null;
  private acting: Promise<unknown> = Promise.resolve();
  /** Last text that somebody sent by themselves: the same one again would be a loop. */
  private tried = '';

  constructor(options: TrainingOptions) {
    this.options = options;
  }

  /** Stands on this line from now on. */
  attach(on: TrainingLine): this {
    this.on = on;
    const stopReading = on.channel.read((message) => {
      if (this.rehearsal?.told({ ...message, at: on.clock.now() })) this.changed();
    });
    const stopTelling = on.channel.listen(({ out, address, text, at }) => {
      if (!out && this.rehearsal?.sent(address, text, at)) this.changed();
    });
    this.stopListening = () => {
      stopReading();
      stopTelling();
    };
    return this;
  }

  /** The line ends: what ran on it is over. */
  async end(): Promise<void> {
    this.stopListening();
    this.stopListening = () => undefined;
    if (this.timer) clearTimeout(this.timer);
    this.rehearsal = null;
    this.on = null;
    await this.acting.catch(() => undefined);
  }

  /** The scenario as it stands; null = none is played. */
  state(): ScenarioState | null {
    const { rehearsal, on, auto } = this;
    if (!rehearsal || !on) return null;
    const { you } = rehearsal.scenario;
    const months = on.line.options.content.texts.months(rehearsal.cast.players[you]!.locale);
    return stateOf(rehearsal, { ...this.options, months, auto, now: on.clock.now() });
  }

  /** Who answers by themselves next, in words of the page; null = nobody. */
  ahead(): { readonly at: number; readonly what: string } | null {
    const next = this.nextOther();
    if (!next) return null;
    return { at: next.at, what: sayFirst(this.options.words, ['scenario-next'], { who: next.player.name }) };
  }

  /** Handles what is due on the line and what others answer by now. Returns the next instant of both, ms, or null. */
  settle(): Promise<number | null> {
    const settled = this.acting.then(
      () => this.settleNow(),
      () => this.settleNow(),
    );
    this.acting = settled;
    return settled;
  }

  private async settleNow(): Promise<number | null> {
    for (let turn = 0; ; turn += 1) {
      const { on } = this;
      if (!on) return null;
      const due = await on.line.settle();
      const other = this.nextOther();
      if (!other) return due;
      if (other.at > on.clock.now()) return due === null ? other.at : Math.min(due, other.at);
      if (turn > mostAtOnce) return due;
      await this.sendFor(other);
    }
  }

  /** Who answers by themselves next, net permitting. */
  private nextOther(): NextText | null {
    const { rehearsal, on, auto } = this;
    if (!rehearsal || !on || !auto) return null;
    const able = rehearsal.others(on.clock.now()).filter(({ player }) => on.channel.hasNet(player.address));
    return able.find((one) => keyOf(one) !== this.tried) ?? null;
  }

  private async sendFor(next: NextText): Promise<boolean> {
    const { on } = this;
    if (!on) return false;
    const { line, channel, clock, nudge } = on;
    const { address } = next.player;
    const at = clock.now();
    const id = `bench:${randomBytes(9).toString('base64url')}`;
    this.tried = keyOf(next);
    const handled = await line.hearText({ channel: channel.name, address }, id, next.text, at);
    if (handled === 'failed') return false;
    const { segments } = countSegments(next.text);
    channel.tell({ address, id, text: next.text, out: false, at, segments, urgency: 'plain', asks: null });
    nudge();
    return true;
  }

  private async list(): Promise<unknown> {
    const roster = await this.roster();
    return listOf(this.options.training, (you) => this.castFor(roster, you));
  }

  private async begin(id: unknown): Promise<Answer> {
    const { training, reset } = this.options;
    const scenario = training.scenarios.find((one) => one.id === id);
    if (!scenario) return refused(404, this.say('scenario-unknown'));
    if (!(await reset()) || !this.on) return refused(409, this.say('scenario-no-reset'));
    const cast = this.castFor(await this.roster(), scenario.you);
    if (!cast.players[scenario.you]) return refused(409, this.say('scenario-nobody'));
    const { clock, line } = this.on;
    const { texts } = line.options.content;
    this.auto = true;
    this.tried = '';
    this.rehearsal = new Rehearsal({ scenario, comments: training.comments, cast, texts, now: clock.now() });
    this.changed();
    await this.settle();
    return ok(this.state());
  }

  private async setAuto({ on, step }: Asked['body']): Promise<Answer> {
    const { rehearsal } = this;
    if (!rehearsal || !this.on) return refused(409, this.say('scenario-none'));
    if (typeof on === 'boolean') this.auto = on;
    this.tried = '';
    if (step === true) {
      const now = this.on.clock.now();
      const next = rehearsal.nextOf(now) ?? rehearsal.others(now)[0];
      if (!next) return refused(409, this.say('scenario-no-next'));
      if (!this.on.channel.hasNet(next.player.address)) return refused(409, this.say('scenario-no-net'));
      if (!(await this.sendFor(next))) return refused(503, this.say('scenario-not-stored'));
    }
    await this.settle();
    this.changed();
    return ok(this.state());
  }

  /** Ends the run with its report; once it has ended, puts the report away. */
  private async finish(): Promise<Answer> {
    if (!this.rehearsal || !this.on) return refused(409, this.say('scenario-none'));
    if (this.rehearsal.report) this.rehearsal = null;
    else this.rehearsal.end(this.on.clock.now());
    this.changed();
    return ok(this.state());
  }

  private changed(): void {
    this.options.tell('scenario', this.state());
    if (this.timer) clearTimeout(this.timer);
    this.timer = null;
    const { on } = this;
    const other = this.nextOther();
    if (!on || !other) return;
    const ms = Math.min(longestSleepMs, Math.max(shortestSleepMs, other.at - on.clock.now()));
    this.timer = setTimeout(
      () =>
        void this.settle().then(
          () => this.changed(),
          () => undefined,
        ),
      ms,
    );
    this.timer.unref();
  }

  private say(key: string): string {
    return sayFirst(this.options.words, [key]);
  }

  private async roster() {
    const { line } = this.on!;
    return line.store.roster(line.options.content.programme.id);
  }

  private castFor(roster: Awaited<ReturnType<Line['store']['roster']>>, you: Part): Cast {
    const { line, channel } = this.on!;
    return castOf(roster, line.options.content.programme, channel.name, you);
  }
}

const keyOf = ({ part, text, at }: NextText): string => `${part} ${text} ${at}`;
