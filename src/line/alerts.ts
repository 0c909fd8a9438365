/**
 * Word to a person outside the links: once when something begins to need somebody, once when it is over. What was said is
 * kept in the store, so that a restart says nothing twice and loses nothing.
 */
import { errorCode } from '../text/error-code.ts';
import { backoffMs } from './backoff.ts';
import type { Condition, Conditions } from './condition.ts';
import type { Alert, Clock, EpochMs, Log, PostAlert, Steady, Store } from './ports.ts';

/** Shortest time between two alerts about the same, ms. Line convention. */
const apartMs = 3_600_000;
/** First and longest pause after the receiver took nothing, ms. */
const firstPauseMs = 30_000;
const longestPauseMs = 3_600_000;

export interface AlertParts {
  readonly store: Pick<Store, 'mark' | 'setMark'>;
  readonly clock: Clock;
  readonly steady: Steady;
  readonly log: Log;
  readonly post: PostAlert;
  /** The words of a condition. */
  textOf(condition: Condition): string;
}

/** What was said of one thing; kept as JSON. */
interface Said {
  /** Since when it goes on; null = it does not, and that was said. */
  readonly since: EpochMs | null;
  readonly last: Alert['state'] | null;
  readonly lastAt: EpochMs | null;
}

const nothingSaid: Said = { since: null, last: null, lastAt: null };

export class Alerts {
  private readonly parts: AlertParts;
  private readonly ending = new AbortController();
  /** What could not be written (a full disk, which is an alert itself): good until it can be. */
  private readonly unsaved = new Map<string, Said>();
  private failures = 0;
  /** The receiver is left alone until then (steady); null = it took the last one. */
  private restUntil: number | null = null;

  constructor(parts: AlertParts) {
    this.parts = parts;
  }

  /**
   * One round: says what has changed since it was said last. Something that is over before its beginning could be said
   * is said once, as over. Dying between the post and the mark says one alert a second time.
   */
  async look(conditions: Conditions): Promise<void> {
    for (const [what, condition] of conditions) {
      if (this.ending.signal.aborted) return;
      await this.lookAt(what, condition);
    }
  }

  /** Lets go of an alert on its way: it comes again after the next start. */
  end(): void {
    this.ending.abort();
  }

  private async lookAt(what: string, condition: Condition): Promise<void> {
    const now = this.parts.clock.now();
    let said = this.unsaved.get(what) ?? readSaid(await this.parts.store.mark(markOf(what)));
    if (condition.wrong && said.since === null) {
      said = { ...said, since: now };
      await this.save(what, said);
    }
    if (said.since === null) return;
    const state = condition.wrong ? 'begun' : 'over';
    if (said.last === state && state === 'begun') return;
    // A clock that was set back must not silence it.
    if (said.lastAt !== null && now >= said.lastAt && now - said.lastAt < apartMs) return;
    const text = this.parts.textOf(condition);
    if (!(await this.post({ what, state, at: now, since: said.since, text }))) return;
    await this.save(what, { since: condition.wrong ? said.since : null, last: state, lastAt: now });
  }

  private async save(what: string, said: Said): Promise<void> {
    const { store, log } = this.parts;
    try {
      await store.setMark(markOf(what), JSON.stringify(said));
      this.unsaved.delete(what);
    } catch (thrown) {
      this.unsaved.set(what, said);
      log.write('error', 'alert-not-kept', { kind: what, code: errorCode(thrown) });
    }
  }

  private async post(alert: Alert): Promise<boolean> {
    const { steady, log, post } = this.parts;
    if (this.restUntil !== null && steady() < this.restUntil) return false;
    const taken = await post(alert, this.ending.signal);
    if (taken) {
      log.write('info', 'alert-said', { kind: alert.what, code: alert.state });
      this.failures = 0;
      this.restUntil = null;
      return true;
    }
    this.failures += 1;
    this.restUntil = steady() + backoffMs(this.failures, firstPauseMs, longestPauseMs);
    return false;
  }
}

const markOf = (what: string): string => `alert:${what}`;

function readSaid(mark: string | null): Said {
  return mark === null ? nothingSaid : (JSON.parse(mark) as Said);
}
