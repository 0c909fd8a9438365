/** A doctor: every choice as often as the others; late, in words, passed on now and then. */
import type { Person } from '../../../src/conversation/world.ts';
import type { OutboundMessage } from '../../../src/line/ports.ts';
import type { Agent, Spoken, Town } from '../town.ts';

export class WalkingDoctor implements Agent {
  readonly person: Person;
  readonly role = 'doctor';
  private readonly town: Town;
  private readonly thinking = new Set<string>();

  constructor(person: Person, town: Town) {
    this.person = person;
    this.town = town;
  }

  hear(messages: readonly OutboundMessage[]): void {
    for (const message of messages) if (message.ask && message.ask.options.length > 0) this.answer(message);
  }

  private answer(message: OutboundMessage): void {
    const { chance } = this.town;
    const ask = message.ask!;
    const [first] = ask.options;
    const tag = first!.reply.split(' ')[0]!;
    if (chance.happens(0.03) || this.thinking.has(tag)) return;
    this.thinking.add(tag);
    const urgent = message.lane === 'sos';
    this.town.plan(this.person.id, urgent ? chance.minutes(1, 4) : chance.minutes(2, 40), () => {
      this.thinking.delete(tag);
      const option = chance.pick(ask.options);
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
