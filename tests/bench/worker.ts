import type { ShownAsk } from '../../src/conversation/effect.ts';
import type { OutboundMessage } from '../../src/line/ports.ts';
import { initialsOf, rightAnswer, type Visit } from './visit.ts';

/** One health worker, patient after patient: answers what the line asks. */
export class Worker {
  private readonly visit: Visit;
  private readonly number: number;
  private patients = 0;
  private corrected = 0;
  private answered = 0;
  private atVisit = false;
  private asked: ShownAsk | null = null;

  constructor(number: number, visit: Visit) {
    this.number = number;
    this.visit = visit;
  }

  get initials(): string {
    // Colleagues of one clinic never have the same patient.
    return initialsOf(this.patients * 2 + (this.number % 2));
  }

  hear(message: OutboundMessage): void {
    if (message.ask) this.asked = message.ask;
  }

  /** The next text. Throws when the line asked nothing, or other than so many questions. */
  next(): string {
    const { asked, visit } = this;
    this.asked = null;
    if (!this.atVisit) {
      this.atVisit = true;
      return 'NEW';
    }
    if (!asked) throw new Error(`nothing was asked after ${this.answered} answers`);
    const text = rightAnswer(visit, asked, this.initials, this.corrected);
    this.answered += 1;
    if (asked.field === 'findings-check' && text !== 'OK') this.corrected += 1;
    if (asked.field === 'go-ahead') {
      if (this.answered !== visit.questions) throw new Error(`${this.answered} questions, not ${visit.questions}`);
      this.patients += 1;
      this.corrected = 0;
      this.answered = 0;
      this.atVisit = false;
    }
    return text;
  }
}
