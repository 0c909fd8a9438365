import type { Person, Role } from '../../src/conversation/world.ts';
import type { Channel, OutboundMessage, SendResult } from '../../src/line/ports.ts';
import { shipped } from './shipped.ts';

const { programme } = shipped;

/** A link whose answers the test decides. */
export class Link implements Channel {
  readonly name: string;
  readonly maxText = 0;
  readonly buttons = false;
  readonly images: boolean;
  readonly reports: boolean;
  readonly prepaid: boolean;
  readonly asked: OutboundMessage[] = [];
  answer: SendResult = { kind: 'sent' };

  constructor(name: string, reports: boolean, prepaid: boolean) {
    this.name = name;
    this.images = name === 'telegram';
    this.reports = reports;
    this.prepaid = prepaid;
  }

  async send(message: OutboundMessage): Promise<SendResult> {
    this.asked.push(message);
    return this.answer;
  }

  /** What this link was asked to carry to somebody since the last look. */
  to(id: string): readonly string[] {
    return this.asked.filter((one) => one.personId === id).map((one) => one.text);
  }
}

/** Somebody on the line, reached by these links, the first one first. */
export function person(id: string, role: Role, channels: readonly string[]): Person {
  return {
    id,
    programmeId: programme.id,
    name: `Person ${id}`,
    roles: [role],
    siteId: 'oruma',
    locale: 'en',
    addresses: channels.map((channel, index) => ({ channel, address: `+0005550100${id.charCodeAt(0)}${index}` })),
    rank: role === 'doctor' ? 1 : 0,
    state: 'joined',
    practised: true,
    shared: false,
  };
}
