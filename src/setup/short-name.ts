/** Words of a name that tell nothing of it. */
const plain = ['the', 'clinic', 'lab', 'laboratory', 'health', 'post'];

/** The first telling word of a name in small letters; '' where there is none. */
export function shortName(name: string): string {
  const words = name
    .normalize('NFD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .split(/[^a-z0-9]+/u);
  return words.find((one) => /^[a-z]/.test(one) && !plain.includes(one)) ?? '';
}
