import { areNames } from '../../text/one-line.ts';

const mostCharacters = 120;

/** True: a name and a role with a comma between, each with letters, on one line. */
export function isNamed(who: string): boolean {
  if (who.length > mostCharacters || /[\p{Cc}\p{Cf}]/u.test(who)) return false;
  const [name = '', ...role] = who.split(',').map((one) => one.trim());
  return areNames(name, false) && /\p{L}{2}/u.test(role.join(' '));
}
