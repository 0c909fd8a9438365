/** Takes away what was kept for long enough, and the daily head. Careful, since it cannot be undone. */
import { durationOf, type Programme } from '../conversation/programme.ts';
import { type TellParts, tellChange } from './tell-change.ts';

const dayMs = 86_400_000;
/** Nothing is taken away for so long after a start or a jump of the clock, ms: a wrong clock would take what is young. */
const quietAfterMs = dayMs;
/** A clock that gained or lost more against the steady one between two looks has jumped, ms. */
const jumpMs = 60_000;
/** Greatest part of the cases that goes in one day without a command. */
const partAtMost = 0.05;
/** A head is taken here only where no morning text takes one, ms. */
const headLateMs = dayMs + 3_600_000;

/** What keeping needs of the store. */
export interface KeepingStore {
  /** Takes a head unless the last one is younger than `freshMs`. */
  dailyHead(now: number, freshMs: number): Promise<unknown>;
  /** Closed cases that nothing happened to since `before`; and how many cases are kept in all. */
  overdueCases(
    programmeId: string,
    before: number,
  ): Promise<{ readonly ids: readonly string[]; readonly kept: number }>;
  eraseCase(caseId: string, at: number, reason: 'kept-long-enough'): Promise<boolean>;
  /** Drops texts of no case from before `before`; returns how many. */
  dropTexts(before: number): Promise<number>;
  /** Takes what was erased or dropped out of the files; `held`: somebody reads, so that it may still stand there. */
  scrub(): Promise<'gone' | 'held' | 'server'>;
}

export interface KeepParts extends TellParts {
  readonly keeping: KeepingStore;
  readonly programme: Programme;
  /** Milliseconds that only ever grow with time, whatever happens to the clock. */
  steady(): number;
}

/** Closed cases that are kept for longer than the programme wants, and all that are kept. */
export function overdueNow(
  store: Pick<KeepingStore, 'overdueCases'>,
  programme: Programme,
  now: number,
): Promise<{ readonly ids: readonly string[]; readonly kept: number }> {
  return store.overdueCases(programme.id, now - durationOf(programme, 'keep-closed'));
}

export class Keeper {
  private readonly parts: KeepParts;
  private quietUntil: number | null = null;
  private before: { readonly clock: number; readonly steady: number } | null = null;
  private sweptAt: number | null = null;
  /** False when something erased may still stand in the files: by this run, by one before, or by a command. */
  private scrubbed = false;

  constructor(parts: KeepParts) {
    this.parts = parts;
  }

  /** Called every few minutes. Dying half-way leaves the rest for the next time. */
  async look(): Promise<void> {
    const now = this.parts.clock.now();
    this.watchClock(now);
    if (!this.scrubbed) await this.scrub();
    await this.parts.keeping.dailyHead(now, headLateMs);
    if (this.quietUntil === null || now < this.quietUntil) return;
    if (this.sweptAt !== null && now - this.sweptAt < dayMs) return;
    this.scrubbed = false;
    await this.eraseCases(now);
    const { keeping, programme, log } = this.parts;
    const dropped = await keeping.dropTexts(now - durationOf(programme, 'keep-texts'));
    if (dropped > 0) log.write('info', 'retention-texts', { count: dropped });
    await this.scrub();
    this.sweptAt = now;
  }

  private async scrub(): Promise<void> {
    this.scrubbed = (await this.parts.keeping.scrub()) !== 'held';
  }

  private watchClock(now: number): void {
    const steady = this.parts.steady();
    const { before } = this;
    this.before = { clock: now, steady };
    if (before !== null) {
      const gainedMs = now - before.clock - (steady - before.steady);
      if (Math.abs(gainedMs) <= jumpMs) return;
      this.parts.log.write('warn', 'clock-jumped', { ms: gainedMs });
      this.sweptAt = null;
    }
    this.quietUntil = now + quietAfterMs;
  }

  private async eraseCases(now: number): Promise<void> {
    const { keeping, programme, log } = this.parts;
    const { ids, kept } = await overdueNow(keeping, programme, now);
    // One may always go: five in a hundred of a small programme are none.
    const held = ids.length > Math.max(1, kept * partAtMost);
    await tellChange(this.parts, {
      mark: 'retention',
      state: held ? 'held' : 'well',
      normal: 'well',
      key: held ? 'retention-held' : null,
      vars: { count: String(ids.length), kept: String(kept) },
    });
    if (held) return;
    for (const id of ids) await keeping.eraseCase(id, now, 'kept-long-enough');
    if (ids.length > 0) log.write('info', 'retention-erased', { count: ids.length });
  }
}
