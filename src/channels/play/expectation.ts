/** What an expectation of a script finds in the texts that a phone received. */
export interface Expected {
  /** Null: the pattern is no sound regular expression. */
  readonly met: boolean | null;
  /** Named groups of the expression, of all texts that it found. */
  readonly groups: Readonly<Record<string, string>>;
}

/** `words` or `/expression/`, letters in either case; with the flag s over all screens that came, in their order. Pure; never throws. */
export function findExpected(pattern: string, texts: readonly string[]): Expected {
  const body = /^\/(.*)\/([a-z]*)$/s.exec(pattern);
  if (!body) return { met: texts.some((text) => text.toLowerCase().includes(pattern.toLowerCase())), groups: {} };
  try {
    const expression = new RegExp(body[1]!, body[2]!.includes('i') ? body[2]! : `${body[2]}i`);
    const read = expression.dotAll ? [texts.join('\n')] : texts;
    const found = read.map((text) => expression.exec(text)).filter((one) => one !== null);
    return { met: found.length > 0, groups: Object.assign({}, ...found.map((one) => one.groups ?? {})) };
  } catch {
    return { met: null, groups: {} };
  }
}

/** Puts captured groups in. An unknown name stays as it is. */
export function withCaptured(text: string, captured: Readonly<Record<string, string>>): string {
  return text.replace(/\{(\w+)\}/g, (all, name: string) => captured[name] ?? all);
}
