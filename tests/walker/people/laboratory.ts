/** A laboratory: unpacks what was posted to it, reads it, confirms by what the glass says. */
import { answerOf, specimenOf } from '../../../src/case/case.ts';
import type { Person } from '../../../src/conversation/world.ts';
import type { OutboundMessage } from '../../../src/line/ports.ts';
import type { Agent, Spoken, Town } from '../town.ts';
import { type Recorded, targetFacts } from '../transcript.ts';
import { anyAnswer, lastAsking } from './desk.ts';
import type { Habits } from './habits.ts';
import type { Patients } from './patients.ts';

const dayMinutes = 24 * 60;
/** The same category in another system's words, where it has one of its own. */
const bethesda: Readonly<Record<string, string>> = {
  Thy1: 'Bethesda I',
  Thy2: 'Bethesda II',
  Thy3a: 'Bethesda III',
  Thy3f: 'Bethesda IV',
  Thy4: 'Bethesda V',
  Thy5: 'Bethesda VI',
};
const nodeResult: Readonly<Record<string, string>> = {
  Thy1: 'L1',
  Thy1c: 'L1',
  Thy2: 'L2',
  Thy2c: 'L2',
  Thy3a: 'L3',
  Thy3f: 'L3',
  Thy4: 'L4 papillary',
  Thy5: 'L5 papillary',
};
/** Of a benign node the line wants to hear of tuberculosis. */
const nodeWords = [
  ' tuberculosis',
  ' granuloma',
  ' no granuloma',
  ' no granuloma',
  ' no granuloma',
  ' reactive, no granuloma',
  '',
];
const typeWords = ['', '', '', ' papillary', ' lymphoma', ' anaplastic', ' medullary', ' metastasis', ' no lymphoma'];

/** Minutes after a read-back, before each of its repeats. */
const between: readonly (readonly [number, number])[] = [
  [3, 9],
  [15, 100],
  [160, 600],
  [900, 1400],
];

export class WalkingLaboratory implements Agent {
  readonly person: Person;
  readonly role = 'lab';
  private readonly town: Town;
  private readonly patients: Patients;
  private readonly habits: Habits;
  /** Sits at the same bench and goes on with what this one leaves. */
  private readonly helper: string | null;
  private readonly amended = new Set<string>();

  constructor(person: Person, town: Town, patients: Patients, habits: Habits, helper: string | null) {
    this.habits = habits;
    this.helper = helper;
    this.person = person;
    this.town = town;
    this.patients = patients;
  }

  learn({ record, caseId, after, by }: Recorded): void {
    const { chance } = this.town;
    const { event } = record;
    const mine = (id: string): boolean => specimenOf(after, id)?.labId === this.person.siteId;
    if (event.type === 'posted') {
      if (event.labId !== this.person.siteId) return;
      event.specimens.forEach((id, index) => {
        // Not all of a parcel is unpacked, or found, on the same day.
        const isApart = index > 0 && chance.happens(this.habits.jarsApart);
        const apart = isApart ? chance.minutes(4 * dayMinutes, 9 * dayMinutes) : 0;
        this.receive(caseId, id, chance.minutes(dayMinutes, 4 * dayMinutes) + apart);
      });
      return;
    }
    if (!('specimen' in event) || event.specimen === null || !mine(event.specimen)) {
      const right = event.type === 'answered' && event.field === 'unusable' && event.value === 'put-right';
      if (right && event.item !== null && mine(event.item))
        this.receive(caseId, event.item, chance.minutes(60, 1500), true);
      return;
    }
    const { specimen } = event;
    switch (event.type) {
      case 'rejected':
        // It was looked at once more.
        if (chance.happens(0.3)) this.receive(caseId, specimen, chance.minutes(60, 5 * dayMinutes), true);
        return;
      case 'received':
        if (chance.happens(0.05)) this.ask(caseId, specimen);
        this.report(caseId, specimen, chance.minutes(dayMinutes, 6 * dayMinutes));
        return;
      case 'read-back':
        this.confirm(caseId, specimen, event.challenge, by, event.result.said);
        return;
      case 'read-back-failed':
      case 'results-unlocked':
        this.report(caseId, specimen, chance.minutes(20, 300));
        return;
      case 'read-back-dropped':
        if (event.why !== 'replaced') this.report(caseId, specimen, chance.minutes(20, 300));
        return;
      case 'result-filed':
        if (!this.amended.has(`${caseId}${specimen}`) && chance.happens(0.04)) this.amend(caseId, specimen);
        else if (chance.happens(this.habits.badAfterResult)) this.doubt(caseId, specimen);
    }
  }

  hear(messages: readonly OutboundMessage[]): void {
    const { chance } = this.town;
    for (const message of messages) {
      const of = message.caseId === null ? null : (this.town.cases.get(message.caseId) ?? null);
      if (!of || message.lane !== 'reminder') continue;
      for (const one of of.specimens) {
        if (one.postedAt === null || one.labId !== this.person.siteId) continue;
        if (one.receivedAt === null) this.receive(of.id, one.id, chance.minutes(60, 900), true);
        else if (one.results.length === 0) this.report(of.id, one.id, chance.minutes(60, 900));
      }
    }
    const last = lastAsking(messages);
    const isOften = last?.ask?.options.length === 0 || last?.flow === 'stands';
    if (!last || chance.happens(isOften ? 0.3 : 0.04)) return;
    this.say(chance.minutes(2, 200), () => anyAnswer(this.town, last));
  }

  private receive(caseId: string, id: string, afterMs: number, again = false): void {
    const { chance } = this.town;
    if (!again && chance.happens(0.04)) return;
    this.say(afterMs, () => {
      const one = specimenOf(this.town.cases.get(caseId)!, id);
      if (!one || (one.receivedAt !== null && one.rejected === null)) return null;
      const count = one.slides.filter((slide) => slide !== 'empty').length;
      if (chance.happens(this.habits.badGlass)) return { text: `BAD ${one.code}`, caseId };
      return { text: `GOT ${one.code} ${this.counted(count)}`, caseId };
    });
  }

  /** One stayed at the clinic, a finger slipped (`22`), or another patient's is among them. */
  private counted(count: number): number {
    const { chance } = this.town;
    if (chance.happens(0.05)) return Math.max(1, count - 1);
    if (!chance.happens(0.05)) return count;
    return chance.happens(0.5) ? 11 * count : count + 1;
  }

  private report(caseId: string, id: string, afterMs: number): void {
    const { chance } = this.town;
    this.say(afterMs, () => {
      const of = this.town.cases.get(caseId)!;
      const one = specimenOf(of, id);
      if (!one || one.results.length > 0 || one.readBack !== null) return null;
      const seen = this.seen(caseId, id);
      const words = chance.pick(seen === 'L2' ? nodeWords : typeWords);
      return { text: `${one.code} ${seen}${words}`, caseId };
    });
  }

  /** What is under the microscope, in this laboratory's words. */
  private seen(caseId: string, id: string): string {
    const { chance } = this.town;
    const of = this.town.cases.get(caseId)!;
    const index = of.specimens.findIndex((one) => one.id === id);
    const category = this.patients.of(caseId)?.results[index] ?? 'Thy2';
    if (targetFacts(of, of.specimens[index]!).kind === 'node') {
      // A node that gave nothing once often gives nothing again: what a new needle is of has its first one in another case.
      const gaveNothing = (answerOf(of, 'earlier') ?? []).some((one) => one.canonical === 'L1');
      if (chance.happens(gaveNothing ? 0.85 : 0.3)) return 'L1';
      return chance.happens(0.4) ? 'L2' : (nodeResult[category] ?? 'L2');
    }
    return chance.happens(0.2) ? (bethesda[category] ?? category) : category;
  }

  private confirm(caseId: string, id: string, challenge: string, by: string, said: string): void {
    const { chance } = this.town;
    // As the slide was pencilled: by what was said of the patient at the bedside.
    const of = this.town.cases.get(caseId)!;
    const quote = String(answerOf(of, 'patient.birthYear') ?? answerOf(of, 'patient.initials') ?? '1950');
    const wrong = 100 * this.habits.wrongYears;
    const odd = chance.weighted({ none: 89 - wrong, no: 3, wrong, silent: this.helper === null ? 4 : 8 });
    const mine = by === this.helper ? by : this.person.id;
    if (odd === 'silent') {
      // Nobody answers here: whoever sits beside reads the glass anew.
      if (this.helper !== null && by !== this.helper && chance.happens(0.6))
        this.town.plan(this.helper, chance.minutes(...chance.pick(between)), () => {
          const one = specimenOf(this.town.cases.get(caseId)!, id);
          return one?.readBack?.challenge === challenge ? { text: `${one.code} ${said}`, caseId } : null;
        });
      return;
    }
    this.town.plan(mine, chance.minutes(2, 90), () => {
      const one = specimenOf(this.town.cases.get(caseId)!, id);
      if (one?.readBack?.challenge !== challenge) return null;
      if (odd === 'no') return { text: 'NO', caseId };
      return { text: `YES ${challenge} ${odd === 'wrong' ? '1901' : quote}`, caseId };
    });
  }

  /** Something on the request is not clear. */
  private ask(caseId: string, id: string): void {
    this.say(this.town.chance.minutes(30, 600), () => {
      const one = specimenOf(this.town.cases.get(caseId)!, id);
      return one ? { text: `ASK ${one.code} which side is it?`, caseId } : null;
    });
  }

  private amend(caseId: string, id: string): void {
    const { chance } = this.town;
    this.amended.add(`${caseId}${id}`);
    this.say(chance.minutes(dayMinutes, 3 * dayMinutes), () => {
      const of = this.town.cases.get(caseId)!;
      const one = specimenOf(of, id);
      if (!one || one.readBack !== null || targetFacts(of, one).kind === 'node') return null;
      return { text: `${one.code} ${chance.pick(['Thy4', 'Thy2', 'Thy3f'])}`, caseId };
    });
  }

  /** Glass whose result is filed is of no use: which of the two counts is asked, and answered by chance. */
  private doubt(caseId: string, id: string): void {
    const { chance } = this.town;
    this.say(chance.minutes(20, 2 * dayMinutes), () => {
      const one = specimenOf(this.town.cases.get(caseId)!, id);
      return one ? { text: `BAD ${one.code}${chance.pick(['', '', ' no name'])}`, caseId } : null;
    });
  }

  private say(afterMs: number, say: () => Spoken | null): void {
    this.town.plan(this.person.id, afterMs, say);
  }
}
