/** The sum of all subjects' named pieces. A name may be given once only. */
import type { Matter, Registry } from './moment.ts';

/** Merges subjects. Throws when two of them use one name: a bug, found by the first test that loads anything. */
export function registryOf(matters: readonly Matter[]): Registry {
  const decisions = new Map();
  const recorders = new Map();
  const values = new Map();
  const readers = new Map();
  const instants = new Map();
  const commands = new Map();
  const doctorAnswers = new Map();
  const samples = new Map();
  const hiding = new Set<string>();
  const put = <T>(into: Map<string, T>, from: Readonly<Record<string, T>> | undefined): void => {
    for (const [name, one] of Object.entries(from ?? {})) {
      if (into.has(name)) throw new Error(`two pieces are called ${name}`);
      into.set(name, one);
    }
  };
  for (const matter of matters) {
    put(decisions, matter.decisions);
    put(recorders, matter.recorders);
    put(readers, matter.readers);
    put(instants, matter.instants);
    put(commands, matter.commands);
    put(doctorAnswers, matter.doctorAnswers);
    for (const [name, one] of Object.entries(matter.values ?? {})) {
      put(values, { [name]: one.of });
      samples.set(name, one.sample);
      if (!one.fromVar) hiding.add(name);
    }
  }
  return { decisions, recorders, values, readers, instants, commands, doctorAnswers, samples, hiding };
}
