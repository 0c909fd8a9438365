/** The strips of all cases: asked for (`/cases`), and told to every page when one of them has changed. */
import type { Line } from '../../../line/line.ts';
import type { Words } from '../../../text/say-word.ts';
import { sayer } from '../../../text/say-word.ts';
import type { BenchClock } from '../clock.ts';
import { type BenchPart, ok, type Tell } from '../part.ts';
import { caseStrip } from './case-strip.ts';
import { mattersOf } from './matters.ts';
import type { CaseStrip } from './strip.ts';
import type { Say } from './words.ts';

export interface CasesOptions {
  readonly line: Line;
  readonly clock: BenchClock;
  readonly tell: Tell;
  readonly words: Words;
}

export class CasesPart implements BenchPart {
  readonly get = { '/cases': async () => ok(await this.strips()) };
  private readonly line: Line;
  private readonly clock: BenchClock;
  private readonly tell: Tell;
  private readonly say: Say;
  // That there is no patient is no news.
  private told = '[]';
  private wanted = false;
  private looking: Promise<void> | null = null;
  private ended = false;

  constructor({ line, clock, tell, words }: CasesOptions) {
    this.line = line;
    this.clock = clock;
    this.tell = tell;
    this.say = sayer(words);
  }

  /** Newest first, open ones before closed ones. */
  async strips(): Promise<readonly CaseStrip[]> {
    const now = this.clock.now();
    const { programme } = this.line.options.content;
    const place = { programme, roster: await this.line.store.roster(programme.id) };
    return (await mattersOf(this.line.options, now)).map((one) => caseStrip(one, place, now, this.say));
  }

  /** Something has happened: looks, and tells what is different. Calls that come while it looks are one more look. */
  happened(): void {
    this.wanted = true;
    this.looking ??= this.lookAll();
  }

  async end(): Promise<void> {
    this.ended = true;
    await this.looking;
  }

  private async lookAll(): Promise<void> {
    while (this.wanted && !this.ended) {
      this.wanted = false;
      // What cannot be read now is read with the next change; the page has what was told before.
      const strips = await this.strips().catch(() => null);
      const said = JSON.stringify(strips);
      if (strips === null || said === this.told || this.ended) continue;
      this.told = said;
      this.tell('cases', strips);
    }
    // Without a pause since the last question whether a look is wanted: none is lost.
    this.looking = null;
  }
}
