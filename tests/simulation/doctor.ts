import type { Person } from '../../src/conversation/world.ts';
import type { OutboundMessage } from '../../src/line/ports.ts';
import type { Agent, Town } from './town.ts';
import type { Manners } from './worker.ts';

const weights: Readonly<Record<string, number>> = { sample: 6, refer: 6, 'call-me': 2, close: 5, done: 6, release: 8 };

/** Answers with the tag, mostly; promises, passes on, forgets, goes off duty. */
export class Doctor implements Agent {
  readonly person: Person;
  private readonly town: Town;
  private readonly manners: Manners;
  private readonly thinking = new Set<string>();
  private readonly over = new Set<string>();

  constructor(person: Person, town: Town, manners: Manners) {
    this.person = person;
    this.town = town;
    this.manners = manners;
  }

  hear(messages: readonly OutboundMessage[]): void {
    for (const message of messages) {
      if (message.ask) this.answer(message, message.ask);
      if (/I ask again/.test(message.text)) this.keep(message.text);
      const over = /^Q(\d+) (?:noted|.*answered|.*says it is done|.*done, noted|was answered)/.exec(message.text)?.[1];
      if (over) this.over.add(over);
      else if (message.ask) this.over.delete(message.ask.options[0]?.reply.split(' ')[0] ?? '');
    }
  }

  live(days: number): void {
    const { chance } = this.town;
    for (let day = 0; day < days; day += 1) {
      const at = day * 24 * 3_600_000 + chance.minutes(60, 600);
      if (chance.happens(0.1)) this.say(at, () => chance.pick(['OFF', 'OFF 18:00', 'DUTY 8-17', 'ON', 'DUTY ALL']));
      if (chance.happens(0.3)) this.say(at, () => 'ON');
      if (chance.happens(0.2)) this.say(at, () => 'LIST');
    }
  }

  private answer(message: OutboundMessage, ask: NonNullable<OutboundMessage['ask']>): void {
    const { chance } = this.town;
    if (chance.happens(this.manners.silent)) return;
    const urgent = message.lane === 'sos';
    const wait = urgent ? chance.minutes(1, 12) : chance.minutes(5, 16 * 60);
    const tag = ask.options[0]?.reply.split(' ')[0] ?? '47';
    if (this.thinking.has(tag)) return;
    this.thinking.add(tag);
    this.say(wait, () => {
      this.thinking.delete(tag);
      if (this.over.has(tag) && chance.happens(0.9)) return null;
      if (chance.happens(0.06)) return `${tag} not me`;
      if (chance.happens(0.06)) return `${tag} phone me before you go on`;
      if (chance.happens(this.manners.wrong)) return chance.pick(['1', '2', '99 1', `${tag} 9`, `${tag}`, 'ok']);
      const entries = ask.options.map((one) => [`=${one.reply}`, weights[one.id] ?? 3] as const);
      return chance.weighted(Object.fromEntries(entries)).slice(1);
    });
    if (chance.happens(0.02)) this.say(wait + chance.minutes(1, 5), () => 'WRONG');
  }

  /** A promise: mostly kept, with the decision. */
  private keep(text: string): void {
    const { chance } = this.town;
    const tag = /^Q(\d+)/.exec(text)?.[1];
    if (!tag || chance.happens(0.4)) return;
    const reply = /DONE/.test(text) ? 'done' : chance.pick(['1', '2', 'done']);
    this.say(chance.minutes(5, 200), () => `${tag} ${reply}`);
  }

  private say(afterMs: number, text: () => string | null): void {
    const { chance } = this.town;
    const heldMs = chance.happens(this.manners.late) ? chance.minutes(1, 240) : 0;
    this.town.plan(this.person.id, afterMs, text, { heldMs, twice: chance.happens(this.manners.twice) });
  }
}
