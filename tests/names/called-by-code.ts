/** Names of flows and states that code hands over, as its source says: all others may be called otherwise. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { packageRoot } from '../../src/content/load.ts';
import { shipped } from '../support/shipped.ts';

/** The program's files, by their path under `src`. */
export const files = readdirSync(join(packageRoot, 'src'), { recursive: true, encoding: 'utf8' })
  .filter((name) => name.endsWith('.ts'))
  .map((name) => ({ name, source: readFileSync(join(packageRoot, 'src', name), 'utf8') }));

/** Flows that code starts. */
export const startedFlows: ReadonlySet<string> = called(/(?:\.run\(|\bflow: )'([a-z][a-z0-9-]*)'/gu);

const enteredNames = called(/\.enter\([^()]*, '([a-z0-9-]+)'\)/gu);

/** States that code enters, as `flow.state`. */
export const enteredStates: ReadonlySet<string> = new Set(
  [...shipped.flows.newest.values()].flatMap((flow) =>
    [...flow.states.keys()].filter((name) => enteredNames.has(name)).map((name) => `${flow.name}.${name}`),
  ),
);

function called(pattern: RegExp): ReadonlySet<string> {
  const ours = files.filter(({ name }) => name.startsWith('conversation/'));
  return new Set(ours.flatMap(({ source }) => [...source.matchAll(pattern)].map((found) => found[1]!)).sort());
}
