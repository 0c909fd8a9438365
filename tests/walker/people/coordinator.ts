/** A coordinator: answers what is asked of the office. */
import type { Person } from '../../../src/conversation/world.ts';
import type { OutboundMessage } from '../../../src/line/ports.ts';
import type { Agent, Town } from '../town.ts';

export class WalkingCoordinator implements Agent {
  readonly person: Person;
  readonly role = 'coordinator';
  private readonly town: Town;

  constructor(person: Person, town: Town) {
    this.person = person;
    this.town = town;
  }

  hear(messages: readonly OutboundMessage[]): void {
    const { chance } = this.town;
    const last = messages.findLast((one) => one.ask !== null && one.ask.options.length > 0);
    if (!last?.ask || chance.happens(0.05)) return;
    const { ask } = last;
    this.town.plan(this.person.id, chance.minutes(20, 600), () => {
      const option = chance.pick(ask.options);
      return { text: option.reply, ids: [option.id], ask, askStep: `${last.flow}.${last.step}`, caseId: last.caseId };
    });
  }
}
