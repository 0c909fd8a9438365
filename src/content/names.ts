import type { ShippedNames } from './check-registry.ts';
import { fieldRows } from './fields.ts';
import type { Content } from './load.ts';
import { baseKey, baseLocale } from './texts.ts';

/** Every name that texts and flows give to the code, sorted: `npm run names` writes them to `src/generated`. */
export function namesOf(content: Pick<Content, 'flows' | 'sources'>): ShippedNames {
  const english = content.sources.locales.find((locale) => locale.tag === baseLocale);
  const keys = (english?.files ?? []).map((file) => [file.name, [...file.texts.keys()].map(baseKey)] as const);
  const flows = [...content.flows.newest.values()];
  return {
    textKeys: sorted(keys.filter(([, own]) => own.length > 0)),
    stateNames: sorted(flows.map((flow) => [flow.name, [...flow.states.keys()]])),
    asks: Object.fromEntries(
      fieldRows(content.flows)
        .map(
          (row) =>
            [`${row.flow}.${row.state}`, { field: row.field, options: row.options.map(({ id }) => id) }] as const,
        )
        .sort(([a], [b]) => (a < b ? -1 : 1)),
    ),
  };
}

function sorted(all: readonly (readonly [string, readonly string[]])[]): Readonly<Record<string, readonly string[]>> {
  return Object.fromEntries(
    [...all].sort(([a], [b]) => (a < b ? -1 : 1)).map(([name, list]) => [name, [...new Set(list)].sort()]),
  );
}
