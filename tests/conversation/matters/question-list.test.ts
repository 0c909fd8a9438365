import { describe, expect, it } from 'vitest';
import { questionLines } from '../../../src/conversation/matters/question-list.ts';
import { registry } from '../../../src/conversation/matters.ts';
import type { Question } from '../../../src/conversation/state.ts';
import type { Turn } from '../../../src/conversation/turn.ts';
import { shipped as content } from '../../support/shipped.ts';
import { person } from '../../support/world.ts';

const english = content.sources.locales.find((one) => one.tag === 'en')!;
const desk = english.files.find((one) => one.name === 'doctor')!;

/** Every kind of question: those of flows, those whose answers record something, those that have choices. */
const kinds = [
  ...new Set([
    ...content.sources.flows.flatMap(({ flow }) =>
      [...flow.states.values()].flatMap((state) =>
        [state.question, ...[...state.transitions.values()].map((one) => one.question)].flatMap((one) =>
          one ? [one.about] : [],
        ),
      ),
    ),
    ...registry.doctorAnswers.keys(),
    ...Object.keys(desk.options).filter((one) => one !== 'doctor-words'),
  ]),
].sort();

/** What LIST shows of one open question of this kind. */
function lineOf(about: string): string {
  const doctor = person('d', 'doctor');
  const question = {
    ...{ id: 'q', tag: '47', caseId: null, item: null, about, askedOf: ['d'], openedAt: Date.UTC(2030, 2, 4, 8) },
    ...{ answeredAt: null, promiseUntil: null },
  } as unknown as Question;
  const turn = {
    now: Date.UTC(2030, 2, 4, 9),
    world: { texts: content.texts, programme: content.programme },
    questions: [question],
    caseOf: () => null,
  } as unknown as Turn;
  return questionLines(turn, doctor)[0]!;
}

describe('what a doctor reads in LIST', () => {
  it('is known for every kind of question', () => {
    expect(kinds.length).toBeGreaterThan(18);
    expect(kinds.map((kind) => `${kind} = ${lineOf(kind)}`)).toMatchSnapshot();
  });

  it.each(kinds)('of %s is plain words of one line, no name of the program', (kind) => {
    const line = lineOf(kind);
    expect(line).toMatch(/^Q47, 11:00: [A-Za-z][^{}_\n]{2,40}$/);
    expect(line).not.toMatch(/about-|doctor\.|[a-z]-[a-z]|thy\d/);
  });
});
