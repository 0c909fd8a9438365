/** Cuts for a network that takes long texts, but not of any length. */

/**
 * The text in parts of at most `most` characters (UTF-16 units), cut at the last line end that fits, else at a space, else
 * between characters, never inside a pair. Order is kept and nothing but white space at the cuts is lost.
 */
export function splitText(text: string, most: number): readonly string[] {
  const parts: string[] = [];
  let rest = text;
  while (rest.length > most) {
    const head = rest.slice(0, most + 1);
    const at = [head.lastIndexOf('\n'), head.lastIndexOf(' ')].find((place) => place > 0) ?? cutInside(rest, most);
    parts.push(rest.slice(0, at).trimEnd());
    rest = rest.slice(at).trimStart();
  }
  return [...parts, rest].filter((part) => part !== '');
}

function cutInside(text: string, most: number): number {
  const last = text.charCodeAt(most - 1);
  return last >= 0xd800 && last <= 0xdbff ? most - 1 : most;
}
