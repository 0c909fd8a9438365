/** Tells the coordinators of something that goes on: the first time at once, then once an hour at most, with a count. */
import type { TroubleKey } from '../conversation/event.ts';
import { type TellParts, tellTrouble } from './tell-change.ts';

/** Shortest time between two texts about the same, ms. Our convention. */
const hourMs = 3_600_000;
/** Things told apart within an hour; more than this are a flood, and the count says so. */
const apartAtMost = 10_000;

/** Counts in memory; when it was told of last is stored, so that a line that starts over and over tells it no oftener. */
export class Tally {
  private readonly parts: TellParts;
  private readonly mark: string;
  private readonly key: TroubleKey;
  /** Marks of what was not told of yet. */
  private readonly untold = new Set<string>();
  private vars: Readonly<Record<string, string>> = {};
  private toldAt: number | null = null;

  /** `mark`: under which the last telling is kept; `key`: the text `trouble.<key>`. */
  constructor(parts: TellParts, mark: string, key: TroubleKey) {
    this.parts = parts;
    this.mark = mark;
    this.key = key;
  }

  /** Notes one more; the same again within the hour (`what`) counts once. False: it should have been told and could not be. */
  async note(what: string, vars: Readonly<Record<string, string>>): Promise<boolean> {
    if (this.untold.size < apartAtMost) this.untold.add(what);
    this.vars = vars;
    return this.look();
  }

  /** Tells what gathered since the last time, once an hour has gone by. False: it could not be told. */
  async look(): Promise<boolean> {
    const { store, clock } = this.parts;
    if (this.untold.size === 0) return true;
    this.toldAt ??= Number((await store.mark(this.mark)) ?? 0);
    const now = clock.now();
    // A clock that was set back must not silence it.
    if (now >= this.toldAt && now - this.toldAt < hourMs) return true;
    const before = this.toldAt;
    this.toldAt = now;
    const telling = [...this.untold];
    const what = { key: this.key, vars: { ...this.vars, count: String(telling.length) } };
    if (!(await tellTrouble(this.parts, `trouble:${this.mark}:${now}`, what))) {
      this.toldAt = before;
      return false;
    }
    for (const one of telling) this.untold.delete(one);
    await store.setMark(this.mark, String(now));
    return true;
  }
}
