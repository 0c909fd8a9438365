/** Morning texts as events. Nothing is stored ahead: the event's own key makes a day's text one, also after a restart. */
import { digestDay, digestDue, digestReaders, isMonday, nextDigestAt } from '../conversation/digest.ts';
import type { Due, Unsigned } from '../conversation/event.ts';
import type { Programme } from '../conversation/programme.ts';
import type { Store } from './ports.ts';

/** Mark of the day's head over the whole history; null where none is taken. */
export type DayHead = (now: number) => Promise<string | null>;
/** What nobody signed or read; null where it is not said. */
export type UnsignedNow = () => Promise<Unsigned | null>;

export class Digests {
  private readonly programme: Programme;
  private readonly store: Pick<Store, 'roster'>;
  private readonly asked: { readonly dayHead: DayHead; readonly unsigned: UnsignedNow };
  /** Last day handled here, by person: spares a look at the store, is no record. */
  private readonly handled = new Map<string, string>();

  constructor(programme: Programme, store: Pick<Store, 'roster'>, asked: Digests['asked']) {
    this.programme = programme;
    this.store = store;
    this.asked = asked;
  }

  /** What is due now and was not handled by this process. */
  async dueAt(now: number): Promise<readonly Due[]> {
    const roster = await this.store.roster(this.programme.id);
    const readers = digestReaders(roster).flatMap((person) => {
      const day = digestDay(this.programme, person, now);
      return day === null || this.handled.get(person.id) === day ? [] : [{ person, day }];
    });
    if (readers.length === 0) return [];
    const head = await this.asked.dayHead(now);
    const unsigned = readers.some(({ day }) => isMonday(day)) ? await this.asked.unsigned() : null;
    return readers.map(({ person, day }) =>
      digestDue(this.programme, person, day, now, { head, unsigned: isMonday(day) ? unsigned : null }),
    );
  }

  /** A morning's event is durable, or was before. */
  done(due: Due): void {
    const day = due.id.slice(due.id.lastIndexOf(':') + 1);
    if (due.what.kind === 'overview' && due.personId !== null) this.handled.set(due.personId, day);
  }

  /** The next instant with a morning text, or null. */
  async nextAt(now: number): Promise<number | null> {
    return nextDigestAt(this.programme, await this.store.roster(this.programme.id), now);
  }
}
