import type { NodeInfection, TumourType } from './result-words.ts';

/** A result as it was filed; what its words name is absent where nothing was. */
export interface NamedResult {
  readonly canonical: string;
  readonly types?: readonly TumourType[] | undefined;
  readonly infections?: readonly NodeInfection[] | undefined;
}

const pressingCategories: ReadonlySet<string> = new Set(['Thy4', 'Thy5', 'L3', 'L4', 'L5']);

/** Days matter: a grave category, a type of tumour that the laboratory names beside any, an infection of a node. */
export function isPressing({ canonical, types = [], infections = [] }: NamedResult): boolean {
  return pressingCategories.has(canonical) || types.length > 0 || infections.length > 0;
}
