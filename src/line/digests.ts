/** Morning texts as events. Nothing is stored ahead: the event's own key makes a day's text one, also after a restart. */
import { digestDay, digestDue, digestReaders, nextDigestAt } from '../conversation/digest.ts';
import type { Due } from '../conversation/event.ts';
import type { Programme } from '../conversation/programme.ts';
import type { Store } from './ports.ts';

export class Digests {
  private readonly programme: Programme;
  private readonly store: Pick<Store, 'roster'>;
  /** Last day handled here, by person: spares a look at the store, is no record. */
  private readonly handled = new Map<string, string>();

  constructor(programme: Programme, store: Pick<Store, 'roster'>) {
    this.programme = programme;
    this.store = store;
  }

  /** What is due now and was not handled by this process. */
  async dueAt(now: number): Promise<readonly Due[]> {
    const roster = await this.store.roster(this.programme.id);
    return digestReaders(roster).flatMap((person) => {
      const day = digestDay(this.programme, person, now);
      return day === null || this.handled.get(person.id) === day ? [] : [digestDue(this.programme, person, day, now)];
    });
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
