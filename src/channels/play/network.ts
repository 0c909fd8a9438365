import type { Channel, OutboundMessage, SendResult } from '../../line/ports.ts';

/** A network between the line and simulated phones. A phone without net keeps its texts waiting, in order. */
export class PlayNetwork {
  private readonly down = new Set<string>();
  private readonly waiting: { address: string; deliver: () => Promise<void> }[] = [];
  private readonly arrive: (message: OutboundMessage) => Promise<void>;

  /** `arrive` is called when a text reaches its phone. */
  constructor(arrive: (message: OutboundMessage) => Promise<void>) {
    this.arrive = arrive;
  }

  /** The channel of this name over this network. */
  channel(name: string, maxText: number): Channel {
    return {
      name,
      maxText,
      buttons: maxText > 0,
      images: maxText > 0,
      reports: true,
      send: (message) => this.send(message),
    };
  }

  private async send(message: OutboundMessage): Promise<SendResult> {
    await this.carry(message.to.address, () => this.arrive(message));
    return { kind: 'sent' };
  }

  /** Carries something to or from a phone: now, or when its net is back. */
  async carry(address: string, deliver: () => Promise<void>): Promise<void> {
    if (this.down.has(address)) this.waiting.push({ address, deliver });
    else await deliver();
  }

  setDown(address: string): void {
    this.down.add(address);
  }

  /** Brings the net back and delivers what waited, both directions, in order. */
  async setUp(address: string): Promise<void> {
    this.down.delete(address);
    const ready = this.waiting.filter((one) => one.address === address);
    const left = this.waiting.filter((one) => one.address !== address);
    this.waiting.splice(0, this.waiting.length, ...left);
    for (const one of ready) await one.deliver();
  }
}
