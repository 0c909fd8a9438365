/** A doctor: nearly every choice as often as the others; late, in words, passed on now and then. */
import type { Person } from '../../../src/conversation/world.ts';
import type { OutboundMessage } from '../../../src/line/ports.ts';
import type { Agent, Spoken, Town } from '../town.ts';
import { sayYesToStop } from './desk.ts';

/** Choices that are offered seldom or lead on to a needle, by option id; 2 for all others. */
const weights: Readonly<Record<string, number>> = { sample: 7, drain: 5, 'one-more': 14, 'check-again': 4, again: 5 };

export class WalkingDoctor implements Agent {
  readonly person: Person;
  readonly role = 'doctor';
  private readonly town: Town;
  /** Days for what can wait. */
  private readonly isSlow: boolean;
  private readonly thinking = new Set<string>();

  constructor(person: Person, town: Town, isSlow: boolean) {
    this.isSlow = isSlow;
    this.person = person;
    this.town = town;
  }

  hear(messages: readonly OutboundMessage[]): void {
    sayYesToStop(this.town, this.person, messages);
    for (const message of messages) if (message.ask && message.ask.options.length > 0) this.answer(message);
  }

  /** Off the line for so long. */
  goesAway(fromMs: number, forMs: number): void {
    this.town.plan(this.person.id, fromMs, () => ({ text: 'STOP', slip: 'word' }));
    this.town.plan(this.person.id, fromMs + forMs, () => ({ text: 'START', slip: 'word' }));
  }

  private answer(message: OutboundMessage): void {
    const { chance } = this.town;
    const ask = message.ask!;
    const [first] = ask.options;
    const tag = first!.reply.split(' ')[0]!;
    if (chance.happens(0.03) || this.thinking.has(tag)) return;
    this.thinking.add(tag);
    const urgent = message.lane === 'sos';
    const late = this.isSlow && !urgent && chance.happens(0.5) ? chance.minutes(4 * 60, 4 * 24 * 60) : 0;
    this.town.plan(this.person.id, late + (urgent ? chance.minutes(1, 4) : chance.minutes(2, 40)), () => {
      this.thinking.delete(tag);
      const id = chance.weighted(Object.fromEntries(ask.options.map((one) => [one.id, weights[one.id] ?? 2])));
      const option = ask.options.find((one) => one.id === id)!;
      const odd = chance.weighted({ none: 92, words: 4, pass: 2, wrong: 2 });
      // Who promised to phone has phoned, mostly, and says so.
      if (option.id === 'call-me' && chance.happens(0.8))
        this.town.plan(this.person.id, chance.minutes(10, 120), () => ({
          text: `${tag} DONE`,
          caseId: message.caseId,
        }));
      const about = { ask, askStep: `doctor.${message.step}`, caseId: message.caseId };
      const spoken: Readonly<Record<typeof odd, Spoken>> = {
        none: { ...about, text: option.reply, ids: [option.id] },
        words: { ...about, text: `${tag} phone me before you go on` },
        pass: { ...about, text: `${tag} not me`, slip: 'word' },
        wrong: { ...about, text: `${tag} 8`, slip: 'unreadable' },
      };
      return spoken[odd];
    });
  }
}
