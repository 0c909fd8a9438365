import type { Person } from '../../src/conversation/world.ts';
import type { OutboundMessage } from '../../src/line/ports.ts';
import type { Patient } from './patient.ts';
import type { Agent, Town } from './town.ts';
import type { Manners } from './worker.ts';

/** Unpacks, reads and confirms: parcels several days late, some broken, some numbers mistyped. */
export class Laboratory implements Agent {
  readonly person: Person;
  private readonly town: Town;
  private readonly manners: Manners;
  private readonly onGlass: (caseId: string) => Patient | null;
  private readonly tray = new Map<string, Patient | null>();

  constructor(person: Person, town: Town, manners: Manners, onGlass: (caseId: string) => Patient | null) {
    this.person = person;
    this.town = town;
    this.manners = manners;
    this.onGlass = onGlass;
  }

  hear(messages: readonly OutboundMessage[]): void {
    for (const message of messages) this.look(message);
    const last = [...messages].reverse().find((one) => one.ask !== null);
    if (!last?.ask || this.town.chance.happens(this.manners.silent)) return;
    const { options } = last.ask;
    this.say(this.town.chance.minutes(2, 300), () => this.town.chance.pick(options).reply);
  }

  private look({ text, caseId }: OutboundMessage): void {
    const { chance } = this.town;
    const coming = /GOT (\d{8}) (\d)/.exec(text);
    if (coming && !this.tray.has(coming[1]!)) {
      this.tray.set(coming[1]!, caseId === null ? null : this.onGlass(caseId));
      if (!chance.happens(this.manners.silent))
        this.receive(coming[1]!, coming[2]!, chance.minutes(24 * 60, 6 * 24 * 60));
    } else if (/has it come\?|no result yet/.test(text)) {
      const code = /GOT (\d{8})|Result: (\d{8})/.exec(text);
      const known = code?.[1] ?? code?.[2];
      if (known && chance.happens(0.7)) {
        if (code?.[1]) this.receive(known, '4', chance.minutes(30, 600));
        else this.report([known], chance.minutes(30, 600));
      }
    }
    const back = /(\d{4}) (\d{4}) \D*: is .* right\?[\s\S]*YES (\d{4})/.exec(text);
    if (back && !chance.happens(this.manners.silent)) this.confirm(`${back[1]}${back[2]}`, back[3]!);
  }

  private receive(code: string, slides: string, afterMs: number): void {
    const { chance } = this.town;
    if (chance.happens(0.05)) {
      this.say(afterMs, () => `BAD ${code} ${chance.pick(['1', '2', '3', '4', '5', ''])}`.trim());
      return;
    }
    this.say(afterMs, () => `GOT ${code} ${chance.happens(0.95) ? slides : '2'}`);
    this.report([code], afterMs + chance.minutes(24 * 60, 8 * 24 * 60));
  }

  private report(codes: readonly string[], afterMs: number): void {
    const { chance } = this.town;
    this.say(afterMs, () =>
      codes
        .map((code) => `${code} ${this.tray.get(code)?.result ?? 'Thy2'}${chance.happens(0.2) ? ' papillary' : ''}`)
        .join('\n'),
    );
    // A second look gives another category.
    if (chance.happens(0.04))
      this.say(afterMs + 30 * 3_600_000, () => `${codes[0]} ${chance.pick(['Thy4', 'Thy2', 'Thy3f'])}`);
  }

  private confirm(code: string, challenge: string): void {
    const { chance } = this.town;
    const patient = this.tray.get(code);
    const quote = patient ? String(patient.born ?? patient.initials) : '1950';
    this.say(chance.minutes(2, 90), () => {
      if (chance.happens(0.03)) return 'NO';
      if (chance.happens(this.manners.wrong / 2)) return `YES ${challenge} 1901`;
      return `YES ${challenge} ${quote}`;
    });
  }

  private say(afterMs: number, text: () => string): void {
    const { chance } = this.town;
    this.town.plan(this.person.id, afterMs, text, { twice: chance.happens(this.manners.twice) });
  }
}
