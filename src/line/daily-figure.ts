/** Texts of the whole line in one day: too many tell the coordinators once and put off reminders till the next morning. */
import type { Due } from '../conversation/event.ts';
import { limitOf, type Programme } from '../conversation/programme.ts';
import { ofRole } from '../conversation/roster-index.ts';
import { addDays, dayText, instantOf, localTime } from '../conversation/schedule.ts';
import type { Store } from './ports.ts';

export class DailyFigure {
  private readonly programme: Programme;
  private readonly store: Pick<Store, 'roster' | 'textsSince'>;
  private day = '';
  private count = 0;
  private readonly told = new Set<string>();

  constructor(programme: Programme, store: Pick<Store, 'roster' | 'textsSince'>) {
    this.programme = programme;
    this.store = store;
  }

  /** Counts texts that were handed over. The day's own start is read from the store, so a restart forgets nothing. */
  async add(sent: number, now: number): Promise<void> {
    const local = localTime(now, this.programme.zone);
    const day = dayText(local);
    if (day === this.day) {
      this.count += sent;
      return;
    }
    this.day = day;
    this.count = await this.store.textsSince(instantOf(local, 0, this.programme.zone));
  }

  private over(now: number): boolean {
    const day = dayText(localTime(now, this.programme.zone));
    return day === this.day && this.count > limitOf(this.programme, 'line-texts-a-day');
  }

  /** Until when reminders wait; null = they go. */
  putOffUntil(now: number): number | null {
    return this.over(now) ? this.nextMorning(now) : null;
  }

  /** When what waits for another day goes. */
  nextMorning(now: number): number {
    const { zone, daytime } = this.programme;
    return instantOf(addDays(localTime(now, zone), 1), daytime.from, zone);
  }

  /** Tells the coordinators, once a day: its id says person and day. */
  async dueAt(now: number): Promise<readonly Due[]> {
    if (!this.over(now)) return [];
    const roster = await this.store.roster(this.programme.id);
    const coordinators = ofRole(roster, 'coordinator').filter((one) => one.state === 'joined');
    const vars = { count: String(limitOf(this.programme, 'line-texts-a-day')) };
    return coordinators
      .map(
        (person): Due => ({
          id: `busy:${person.id}:${this.day}`,
          programmeId: this.programme.id,
          personId: person.id,
          caseId: null,
          name: 'busy',
          frameId: null,
          dueAt: now,
          what: { kind: 'tell', key: 'common.line-busy', caseId: null, item: null, vars, lane: 'notice' },
        }),
      )
      .filter((due) => !this.told.has(due.id));
  }

  done(due: Due): void {
    if (due.id.startsWith('busy:')) this.told.add(due.id);
  }
}
