/** What happens on the phones while the clock is moved: what is to be summed up, and what a jump stops for. */
import type { Line } from '../../line/line.ts';
import type { Arrived, BenchChannel } from './channel.ts';
import { phoneOwners, questionsOf } from './people.ts';

/** A question that reached a phone on the way and that becomes an alarm when nobody answers. */
export interface Stop {
  readonly personId: string;
  readonly name: string;
  readonly address: string;
  /** Of the patient; '' where it is about none. */
  readonly tag: string;
  readonly title: string;
}

/** Texts that reached one phone on the way. `urgent`: how many of them say that somebody may be in danger. */
export interface Came {
  readonly name: string;
  readonly address: string;
  readonly texts: number;
  readonly urgent: number;
}

type Owners = Awaited<ReturnType<typeof phoneOwners>>;

/** Looks on during one move of the clock; `end` it. */
export class JumpWatch {
  private readonly line: Line;
  private readonly channel: BenchChannel;
  private readonly owners: Owners;
  /** Questions that were open before, or were stopped for: whoever jumps on has seen them. */
  private readonly known = new Set<string>();
  private readonly came: Arrived[] = [];
  /** Phones that were asked something since the last look. */
  private readonly asked = new Set<string>();
  private readonly stopListening: () => void;

  private constructor(line: Line, channel: BenchChannel, owners: Owners) {
    this.line = line;
    this.channel = channel;
    this.owners = owners;
    this.stopListening = channel.listen((arrived) => {
      if (!arrived.out) return;
      this.came.push(arrived);
      if (arrived.asks !== null) this.asked.add(arrived.address);
    });
  }

  static async begin(line: Line, channel: BenchChannel): Promise<JumpWatch> {
    const watch = new JumpWatch(line, channel, await phoneOwners(line, channel));
    for (const { address } of watch.owners) watch.asked.add(address);
    await watch.look();
    return watch;
  }

  /** The first question since the last look that nobody could have answered before and that cannot wait; null: none. */
  async look(): Promise<Stop | null> {
    let stop: Stop | null = null;
    for (const owner of this.owners.filter(({ address }) => this.asked.has(address))) {
      const { person, address } = owner;
      for (const { key, pressing, tag, title } of await questionsOf(this.line, this.channel, owner)) {
        const isNew = !this.known.has(`${person.id} ${key}`);
        this.known.add(`${person.id} ${key}`);
        if (isNew && pressing) stop ??= { personId: person.id, name: person.name, address, tag, title };
      }
    }
    this.asked.clear();
    return stop;
  }

  /** Phone by phone, those that got something. */
  summary(): readonly Came[] {
    return this.owners.flatMap(({ person, address }) => {
      const texts = this.came.filter((one) => one.address === address);
      const urgent = texts.filter((one) => one.urgency === 'now').length;
      return texts.length === 0 ? [] : [{ name: person.name, address, texts: texts.length, urgent }];
    });
  }

  end(): void {
    this.stopListening();
  }
}
