/** How a case is named to whoever reads of it. */
import { type Case, specimenOf } from '../../case/case.ts';
import { formatCode } from '../../case/code.ts';
import type { Person } from '../world.ts';

/** True: this person reads the case for a laboratory only. */
export function onlyLaboratory(person: Person): boolean {
  return person.roles.every((role) => role === 'lab');
}

/** The clinic's tag; to a laboratory, which never sees tags elsewhere, the code. '' where there is none. */
export function caseName(person: Person, of: Case | null, item: string | null): string {
  if (!of) return '';
  if (!onlyLaboratory(person)) return of.tag;
  const code = (specimenOf(of, item) ?? of.specimens[0])?.code;
  return code === undefined ? '' : formatCode(code);
}
