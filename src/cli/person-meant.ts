/** Somebody of the roster as an operator names them on the command line. */
import type { Person } from '../conversation/world.ts';

/** By id, whole name or address (with or without its link); or what was wrong. */
export function personMeant(wanted: string, known: readonly Person[]): Person | string {
  const plain = wanted.trim().toLowerCase();
  const found = known.filter(
    (one) =>
      one.id === wanted ||
      one.name.toLowerCase() === plain ||
      one.addresses.some(({ channel, address }) => address === wanted || `${channel}:${address}` === wanted),
  );
  const [person] = found;
  if (!person) return 'nobody of that id, name or address';
  return found.length > 1 ? `several of that name: ${found.map((one) => one.id).join(', ')}` : person;
}
