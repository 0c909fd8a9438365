/** The letters that a text begins with, '' where it begins with none. */
export function firstWord(text: string): string {
  return /^[\p{L}\p{M}]+/u.exec(text.trim())?.[0] ?? '';
}
