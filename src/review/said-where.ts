import { textUses } from '../content/text-index.ts';
import type { Flow } from '../conversation/flow.ts';

/** Where each text is said, by key: `flow new, 4 breathing`. */
export function saidWhere(flows: readonly Flow[]): ReadonlyMap<string, readonly string[]> {
  const places = new Map<string, Set<string>>();
  for (const flow of flows) {
    const numbers = new Map([...flow.states.keys()].map((name, at) => [name as string, at + 1]));
    for (const { key, path } of textUses(flow)) {
      const [, name = ''] = path.map(String);
      const step = path[0] === 'states' ? `, ${numbers.get(name) ?? ''} ${name}` : '';
      const all = places.get(key) ?? new Set();
      places.set(key, all.add(`flow ${flow.name}${step}`));
    }
  }
  return new Map([...places].map(([key, all]) => [key, [...all]]));
}
