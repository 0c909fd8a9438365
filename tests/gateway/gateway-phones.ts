import { type Kannel, until } from './kannel.ts';

/** Phones behind a real gateway: each writes, and hears what the line sends it. */
export class GatewayPhones<Phone extends string> {
  readonly kannel: Kannel;
  /** What the line wrote to its log. */
  written = '';
  private readonly numbers: Readonly<Record<Phone, string>>;

  constructor(kannel: Kannel, numbers: Readonly<Record<Phone, string>>) {
    this.kannel = kannel;
    this.numbers = numbers;
  }

  /** Place in what the phones received, to look from later. */
  get mark(): number {
    return this.kannel.received.length;
  }

  /** Looked at from the start of `mark` on. */
  textsTo(phone: Phone, mark: number): readonly string[] {
    return this.kannel.received.slice(mark).flatMap((one) => (one.to === this.numbers[phone] ? [one.text] : []));
  }

  async hears(phone: Phone, wanted: RegExp, mark: number, ms = 30_000): Promise<RegExpExecArray> {
    let found: RegExpExecArray | null = null;
    await until(
      () => {
        for (const text of this.textsTo(phone, mark)) found ??= wanted.exec(text);
        return found !== null;
      },
      () =>
        `${phone}: ${wanted}; got ${JSON.stringify(this.textsTo(phone, mark))}; all ${JSON.stringify(this.kannel.received.slice(-4))}; ${this.written.slice(-900)}`,
      ms,
    );
    return found!;
  }

  /** One phone writes; resolves with what `hearer` then hears. */
  async says(phone: Phone, text: string, hearer: Phone, wanted: RegExp, ms = 30_000): Promise<RegExpExecArray> {
    const { mark } = this;
    this.kannel.send(this.numbers[phone], text);
    return this.hears(hearer, wanted, mark, ms);
  }
}
