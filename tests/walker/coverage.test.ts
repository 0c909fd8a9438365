import { expect, it } from 'vitest';
import { shipped } from '../support/shipped.ts';
import { Coverage } from './coverage.ts';

it('choices of doctors are those of the flows and those made in code, until one is taken', () => {
  const coverage = new Coverage(shipped.flows);
  const { doctors } = coverage.unvisited();
  const made = ['thy1 repeat', 'thy4 refer', 'typed find-primary', 'node-treat treat', 'phoned not-yet', 'end keep'];
  for (const one of [...made, 'urgent-decision-cyst drain', 'asked call-me'])
    expect(doctors).toContain(`doctor.${one}`);
  const inFlows = [...shipped.flows.newest.values()].flatMap((flow) =>
    [...flow.states.values()]
      .flatMap((state) => [state.question, ...[...state.transitions.values()].map(({ question }) => question)])
      .flatMap((one) => one?.options.map(({ id }) => `doctor.${one.about} ${id}`) ?? []),
  );
  expect(inFlows.filter((one) => !doctors.includes(one))).toEqual([]);
  coverage.choose('doctor.thy4', 'refer');
  expect(coverage.unvisited().doctors).not.toContain('doctor.thy4 refer');
});

it('exits that nobody took are told by name, as ways and as choices of each question', () => {
  const coverage = new Coverage(shipped.flows);
  const { exits, choices } = coverage.unvisited();
  expect(exits).toContain('node exit.refuses');
  expect(choices).toContain('node.pulse exit.gone');
  coverage.choose('node.pulse', 'exit.gone');
  expect(coverage.unvisited().choices).not.toContain('node.pulse exit.gone');
});
