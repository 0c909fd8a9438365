/** All that the page shows, read as a whole, and the word that something comes next. */
import type { Line } from '../../line/line.ts';
import type { Words } from '../../text/say-word.ts';
import type { BenchChannel } from './channel.ts';
import type { BenchClock } from './clock.ts';
import { type NextEvent, nextEvent } from './next-event.ts';
import { type Answer, type Asked, type BenchPart, ok, type Tell } from './part.ts';
import { peopleOf } from './people.ts';

export interface StateOptions {
  readonly line: Line;
  readonly clock: BenchClock;
  readonly channel: BenchChannel;
  readonly tell: Tell;
  readonly words: Words;
  /** What comes beside the line; null = nothing. */
  readonly ahead: () => NextEvent | null;
  /** What other parts add to the state, by its name: `cases`, `scenario`. */
  readonly more: Readonly<Record<string, () => Promise<unknown>>>;
}

/** Pause in which several happenings become one word, ms. */
const gatheredMs = 30;

export class StatePart implements BenchPart {
  /** With `words=known` without the page's words, which never change while it stands. */
  readonly get = { '/state': ({ query }: Asked) => this.state(query.get('words') !== 'known') };
  private readonly options: StateOptions;
  private timer: NodeJS.Timeout | null = null;
  private said = '';

  constructor(options: StateOptions) {
    this.options = options;
  }

  async end(): Promise<void> {
    if (this.timer) clearTimeout(this.timer);
  }

  private async state(hasWords: boolean): Promise<Answer> {
    const { line, clock, channel, words, more } = this.options;
    const { zone, price = null } = line.options.content.programme;
    const people = await peopleOf(line, channel);
    const added = await Promise.all(Object.entries(more).map(async ([name, of]) => [name, await of()] as const));
    return ok({
      now: clock.now(),
      zone,
      next: await this.next(),
      ...(hasWords ? { words } : {}),
      price,
      people,
      ...Object.fromEntries(added),
    });
  }

  /** The first of what the line does and what comes beside it. */
  private async next(): Promise<NextEvent | null> {
    const { line, words, ahead } = this.options;
    const [own, beside] = [await nextEvent(line, words), ahead()];
    return own && beside ? (beside.at <= own.at ? beside : own) : (own ?? beside);
  }

  happened(): void {
    this.timer ??= setTimeout(() => {
      this.timer = null;
      void this.tellNext().catch(() => undefined);
    }, gatheredMs).unref();
  }

  /** Told when it is another one than before. */
  private async tellNext(): Promise<void> {
    await this.options.line.idle();
    const next = await this.next();
    const said = JSON.stringify(next);
    if (said === this.said) return;
    this.said = said;
    this.options.tell('next', { next });
  }
}
