/** One health worker of the chain: goes through recorded visits, one text at a time, and knows what must come back. */
import { initialsOf } from './visit.ts';
import type { Passed } from './whole-line.ts';

/** Whoever has no answer by then has none, ms. */
export const patienceMs = 20_000;

/** What became of one text. */
export interface Outcome {
  /** When its first answer was taken by the gateway (`performance.now`); null = never. */
  readonly answeredAt: number | null;
  /** The line says nothing on this text: the visit is over. */
  readonly isSilent: boolean;
  /** The answer was the recorded one. */
  readonly isOnScript: boolean;
}

export class Caller {
  private readonly number: number;
  private readonly script: readonly Passed[];
  private place = 0;
  private patients = 0;
  private hearing: ((text: string) => void) | null = null;

  constructor(number: number, script: readonly Passed[]) {
    this.number = number;
    this.script = script;
  }

  /** Sends the next text; resolves when all that it makes the line say was taken, or patience is at its end. */
  async say(bring: (text: string) => Promise<number>): Promise<Outcome> {
    const { text, replies } = this.script[this.place]!;
    const wanted = replies.map((one) => dayless(this.inOwnName(one)));
    const heard = wanted.length === 0 ? null : this.hear(wanted);
    const status = await bring(this.inOwnName(text));
    if (status !== 200) {
      this.nextPatient();
      return { answeredAt: null, isSilent: false, isOnScript: true };
    }
    const outcome = heard ? await heard : { answeredAt: null, isSilent: true, isOnScript: true };
    const isLost = !outcome.isSilent && (outcome.answeredAt === null || !outcome.isOnScript);
    if (isLost || this.place + 1 === this.script.length) this.nextPatient();
    else this.place += 1;
    return outcome;
  }

  /** A text of the line reached this phone. */
  take(text: string): void {
    this.hearing?.(text);
  }

  private hear(wanted: readonly string[]): Promise<Outcome> {
    return new Promise((resolve) => {
      const heard: string[] = [];
      let answeredAt: number | null = null;
      const end = () => {
        clearTimeout(patience);
        this.hearing = null;
        resolve({ answeredAt, isSilent: false, isOnScript: heard.every((text) => wanted.includes(dayless(text))) });
      };
      const patience = setTimeout(end, patienceMs);
      this.hearing = (text) => {
        answeredAt ??= performance.now();
        heard.push(text);
        if (heard.length === wanted.length) end();
      };
    });
  }

  /** The recorded words with the initials of this worker's own patient. */
  private inOwnName(text: string): string {
    const own = initialsOf(this.patients * 2 + (this.number % 2));
    return text.replaceAll(new RegExp(`\\b${initialsOf(0)}\\b`, 'g'), own);
  }

  private nextPatient(): void {
    this.place = 0;
    this.patients += 1;
    this.hearing = null;
  }
}

/** A text without its dates: the recorded visit was on another day. */
function dayless(text: string): string {
  return text.replaceAll(/\b\d{1,2} [A-Z]{3} \d{4}\b/g, 'DAY');
}
