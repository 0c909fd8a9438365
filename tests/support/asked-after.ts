/** Which question came directly after which, by what answer: gathered from the messages of scripts and walks. */
import type { PlayedMessage } from '../../src/cli/player.ts';

interface Open {
  readonly state: string;
  readonly item: string | null;
  readonly tag: string;
  readonly options: ReadonlyMap<string, string>;
  readonly isNumber: boolean;
}

/** `any`: a number was answered; else the options that were named, joined by `+`. */
export type AskedAfter = Readonly<Record<string, Readonly<Record<string, readonly string[]>>>>;

export class AskedPairs {
  private readonly open = new Map<string, Open>();
  private readonly said = new Map<string, { readonly at: string; readonly answer: string | null }>();
  private readonly found = new Map<string, Map<string, Set<string>>>();

  hear(message: PlayedMessage): void {
    const { phone, at, dir, text, ask } = message;
    const before = this.open.get(phone);
    if (dir === 'in') {
      this.said.set(phone, { at, answer: before ? answerIn(text, before) : null });
      return;
    }
    if (!ask) return;
    const now: Open = {
      state: `${message.flow}.${message.step}`,
      item: ask.item,
      tag: text.slice(0, 3),
      options: new Map(ask.options.map((one) => [one.reply.toUpperCase(), one.id])),
      isNumber: ask.kind === 'number',
    };
    this.open.set(phone, now);
    const said = this.said.get(phone);
    this.said.delete(phone);
    if (!before || !said || said.answer === null || said.at !== at || before.tag !== now.tag) return;
    if (before.state === now.state && before.item === now.item) return;
    const to = this.found.get(before.state) ?? new Map<string, Set<string>>();
    this.found.set(before.state, to.set(now.state, (to.get(now.state) ?? new Set()).add(said.answer)));
  }

  /** Everything that was heard, sorted. */
  get pairs(): AskedAfter {
    const sorted = <T>(of: Iterable<readonly [string, T]>) => [...of].sort(([a], [b]) => (a < b ? -1 : 1));
    return Object.fromEntries(
      sorted(this.found).map(([from, to]) => [
        from,
        Object.fromEntries(sorted(to).map(([state, answers]) => [state, [...answers].sort()])),
      ]),
    );
  }
}

function answerIn(text: string, { options, isNumber }: Open): string | null {
  const typed = text.trim().toUpperCase();
  if (isNumber && /^\d{1,3}$/u.test(typed)) return 'any';
  const whole = options.get(typed);
  if (whole !== undefined) return whole;
  const parts = typed.includes(' ') || typed.includes(',') ? typed.split(/[\s,]+/u) : [...typed];
  const ids = parts.map((one) => options.get(one));
  return ids.every((one) => one !== undefined) ? ids.join('+') : null;
}
