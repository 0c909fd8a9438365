/** The same questions on XState's pure transition, its snapshot committed to SQLite after each text. */
import { assign, createMachine, initialTransition, transition } from 'xstate';
import { Script, sameQuestion } from './baseline.ts';
import type { Contestant } from './contestant.ts';
import { keptRows } from './durable-file.ts';
import type { AskedQuestion } from './questions.ts';

interface Context {
  readonly answers: readonly string[];
}
interface Text {
  readonly type: 'text';
  readonly text: string;
}

const stateOf = (place: number) => `question${place}`;

/** A state a question, in a row; the last answer leads to the end. */
function machineOf(questions: readonly AskedQuestion[]) {
  const states = questions.map((question, place) => [
    stateOf(place),
    {
      meta: { asks: question.text },
      on: {
        text: {
          target: place + 1 < questions.length ? stateOf(place + 1) : 'over',
          actions: assign({
            answers: ({ context, event }: { context: Context; event: Text }) => [...context.answers, event.text],
          }),
        },
      },
    },
  ]);
  return createMachine({
    types: {} as { context: Context; events: Text },
    context: { answers: [] },
    initial: 'begin',
    states: {
      begin: { on: { text: { target: stateOf(0) } } },
      ...Object.fromEntries(states),
      over: { type: 'final' },
    },
  });
}

export interface XstateBaseline extends Contestant {
  /** Answers of the visits that a person has finished, as they are kept. */
  answersOf(person: number): readonly (readonly string[])[];
}

/** Opens it on a file; what was kept there goes on, for people who are where `script` has them. */
export function openXstate(
  file: string,
  questions: readonly AskedQuestion[],
  script: Script = new Script(questions),
): XstateBaseline {
  const rows = keptRows(file);
  const machine = machineOf(questions);
  const [first] = initialTransition(machine);

  const hear = (person: string, text: string): string | null => {
    const kept = rows.read(person);
    const before = kept === null ? first : machine.resolveState(JSON.parse(kept));
    const [after] = transition(machine, before, { type: 'text', text });
    const isOver = after.status === 'done';
    const { value, context } = after;
    rows.keep(person, isOver ? null : JSON.stringify({ value, context }), isOver ? context.answers : null);
    return (after.getMeta()[`${machine.id}.${String(value)}`] as { asks: string } | undefined)?.asks ?? null;
  };
  return {
    handle: async (people) => {
      for (const person of people) {
        const { text, asked } = script.next(person);
        sameQuestion(asked, hear(String(person), text));
      }
    },
    send: async () => undefined,
    answersOf: (person) => rows.answersOf(String(person)),
    close: async () => rows.close(),
  };
}
