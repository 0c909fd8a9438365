/** Gives the value of a placeholder; throws on a name it does not know (the checker refuses such texts). */
export type Lookup = (name: string) => string;

/** A text cut once into literal parts and placeholders. */
export interface Template {
  /** Literal text, or the name of a value to put in. */
  readonly parts: readonly (string | { readonly name: string })[];
  /** Names of the placeholders, each once, in order of first use. */
  readonly placeholders: readonly string[];
  /** A brace stands without its partner, or holds no name: the checker refuses such a text. */
  readonly braces: 'sound' | 'faulty';
}

const placeholder = /\{([a-z][A-Za-z0-9.-]*)\}/gu;

/** Cuts a text at its `{name}` placeholders. Never throws; a faulty brace stays as literal text and is marked. */
export function compileTemplate(text: string): Template {
  const parts: (string | { readonly name: string })[] = [];
  const names = new Set<string>();
  let from = 0;
  for (const match of text.matchAll(placeholder)) {
    if (match.index > from) parts.push(text.slice(from, match.index));
    parts.push({ name: match[1]! });
    names.add(match[1]!);
    from = match.index + match[0].length;
  }
  if (from < text.length) parts.push(text.slice(from));
  const faulty = parts.some((part) => typeof part === 'string' && /[{}]/u.test(part));
  return { parts, placeholders: [...names], braces: faulty ? 'faulty' : 'sound' };
}

/**
 * Puts values in, in one pass: braces inside a value stay as they are, so nobody's words are ever expanded.
 * Throws only what `lookup` throws.
 */
export function renderTemplate(template: Template, lookup: Lookup): string {
  let text = '';
  for (const part of template.parts) text += typeof part === 'string' ? part : lookup(part.name);
  return text;
}
