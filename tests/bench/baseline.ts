/** What baselines have in common: people who send the recorded texts one after the other, and see what they are asked. */
import type { AskedQuestion } from './questions.ts';

/** The word that begins a visit, as on the line. */
export const beginWord = 'NEW';

/** Where each person is in the questions, outside whatever is measured. */
export class Script {
  private readonly questions: readonly AskedQuestion[];
  private readonly places = new Map<number, number>();

  constructor(questions: readonly AskedQuestion[]) {
    this.questions = questions;
  }

  /** The next text of a person, and what has to be asked next: the word first, then each answer. */
  next(person: number): { readonly text: string; readonly asked: string | null } {
    const place = this.places.get(person) ?? 0;
    this.places.set(person, (place + 1) % (this.questions.length + 1));
    return {
      text: place === 0 ? beginWord : this.questions[place - 1]!.answer,
      asked: this.questions[place]?.text ?? null,
    };
  }
}

/** Throws when a baseline asked something else: it would not be measured at the same work. */
export function sameQuestion(wanted: string | null, asked: string | null): void {
  if (wanted !== asked) throw new Error(`asked ${asked}, not ${wanted}`);
}
