/** What a screen reader is told of new texts: always whose phone it is. */
import type { BenchState, PhonePerson } from './contract.ts';
import type { Say } from './words.ts';

/** One sentence for each phone that got texts since `before`. */
export function heardOf(state: BenchState, before: BenchState, say: Say): readonly string[] {
  return state.people.flatMap((person) => {
    const fresh = freshOn(person, before);
    const last = fresh.at(-1);
    if (!last) return [];
    const { name } = person;
    if (fresh.length === 1) return [say('page-heard-one', { name, text: last.text })];
    return [say('page-heard-more', { name, n: fresh.length, text: last.text })];
  });
}

function freshOn({ address, texts }: PhonePerson, before: BenchState) {
  const old = before.people.find((one) => one.address === address);
  const known = new Set(old?.texts.map((one) => one.id));
  return texts.filter((one) => one.out && !known.has(one.id));
}
