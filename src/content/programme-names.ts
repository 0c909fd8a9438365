/** Names that a programme of an operator must have: flows and code read those of the shipped one, all of them and no others. */
import type { Programme } from '../conversation/programme.ts';
import { suggestion } from './closest.ts';
import type { Problem } from './problem.ts';
import type { ReadProgramme } from './programme.ts';

const kinds = ['urgencies', 'durations', 'limits'] as const;

/** One problem for each name that is lacking or that nobody reads; none for a file that could not be read. */
export function nameProblems(file: string, own: ReadProgramme, shipped: Programme): readonly Problem[] {
  const problems: Problem[] = [];
  const { names } = own;
  if (!names) return problems;
  for (const kind of kinds) {
    const [has, wanted] = [names[kind], Object.keys(shipped[kind])];
    if (has === null) continue;
    for (const name of wanted.filter((one) => !has.includes(one))) {
      const todo = `take ${name} over from the package's flows/programme.yaml`;
      problems.push({ file, line: own.lineOf([kind]), path: `${kind}.${name}`, what: 'is missing', todo });
    }
    for (const name of has.filter((one) => !wanted.includes(one))) {
      const path = [kind, name];
      const todo = suggestion(name, wanted, 'take it out');
      problems.push({ file, line: own.lineOf(path), path: path.join('.'), what: 'is read by nobody', todo });
    }
  }
  return problems;
}
