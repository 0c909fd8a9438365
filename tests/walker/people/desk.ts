/** Somebody at a desk, a coordinator or whoever sits beside the laboratory's reader: answers what is asked, by chance. */
import type { Person } from '../../../src/conversation/world.ts';
import type { OutboundMessage } from '../../../src/line/ports.ts';
import { saidIn } from '../../support/claims/pattern.ts';
import type { Agent, Spoken, Town } from '../town.ts';
import { confirmsEnd } from './ends-cases.ts';

export class WalkingDesk implements Agent {
  readonly person: Person;
  readonly role: 'coordinator' | 'lab';
  private readonly town: Town;

  constructor(person: Person, role: 'coordinator' | 'lab', town: Town) {
    this.person = person;
    this.role = role;
    this.town = town;
  }

  hear(messages: readonly OutboundMessage[]): void {
    const { chance } = this.town;
    sayYesToStop(this.town, this.person, messages);
    confirmsEnd(this.town, this.person, messages);
    const last = lastAsking(messages);
    if (!last || chance.happens(last.flow === 'second' ? 0.4 : 0.18)) return;
    // A change of the roster holds for an hour only.
    const soon = last.flow === 'staff' || last.flow === 'second' || this.role === 'lab';
    this.say(soon ? chance.minutes(2, 50) : chance.minutes(20, 900), () => anyAnswer(this.town, last));
  }

  say(afterMs: number, say: () => Spoken | null): void {
    this.town.plan(this.person.id, afterMs, say);
  }
}

/** Whoever leaves means it, also as the last one, or with a patient in hand. */
export function sayYesToStop(town: Town, { id }: Person, messages: readonly OutboundMessage[]): void {
  for (const { text } of messages) {
    const digits = (saidIn(text, 'people.stop-last') ?? saidIn(text, 'people.stop-patient'))?.digits;
    if (digits !== undefined) town.plan(id, 60_000, () => ({ text: `YES ${digits}`, slip: 'word' }));
  }
}

/** The last message that asks for an option or a number. */
export function lastAsking(messages: readonly OutboundMessage[]): OutboundMessage | null {
  return messages.findLast(({ ask }) => ask !== null && (ask.options.length > 0 || ask.kind === 'number')) ?? null;
}

export function anyAnswer({ chance }: Town, message: OutboundMessage): Spoken {
  const ask = message.ask!;
  const about = { ask, askStep: `${message.flow}.${message.step}`, caseId: message.caseId };
  // Who of a shared phone it is.
  if (ask.options.length === 0) return { ...about, text: String(1 + chance.below(2)) };
  const option = chance.pick(ask.options);
  return { ...about, text: option.reply, ids: [option.id] };
}
