import { describe, expect, it } from 'vitest';
import { type Lane, lanesOf, leadsOn, type Step, stepsOf } from '../../src/review/flow-steps.ts';
import { shipped } from '../support/shipped.ts';

const wording = {
  programme: shipped.programme,
  label: (field: string, option: string) => shipped.texts.label('en', field, option),
};
const flows = [...shipped.flows.newest.values()];

describe('the drawing of a flow', () => {
  it.each(flows.map((flow) => [flow.name, stepsOf(flow, wording)] as const))(
    '%s: each arrow to another step has a line of its own or leads straight on, and no two lines meet',
    (_name, steps) => {
      const lanes = lanesOf(steps);
      for (const [row, step] of steps.entries()) {
        for (const { to } of step.arrows) {
          const target = steps.findIndex((one) => one.number > 0 && one.number === to);
          if (target < 0 || target === row || leadsOn(step, to!)) continue;
          expect(lanes.filter((lane) => lane.to === target && lane.from.includes(row))).toHaveLength(1);
        }
      }
      for (const lane of lanes) {
        expect([lane.first, lane.last]).toEqual([Math.min(lane.to, ...lane.from), Math.max(lane.to, ...lane.from)]);
        const others = lanes.filter((one) => one !== lane && one.column === lane.column);
        expect(others.filter((one) => one.first <= lane.last && lane.first <= one.last)).toEqual([]);
      }
    },
  );

  it('says on each arrow what leads along it and what happens on the way', () => {
    const sampling = stepsOf(shipped.flows.newest.get('sampling')!, wording);
    const after = sampling.find(({ name }) => name === 'alarm-next')!;
    expect(after.does).toContain('asks the doctor: before-needle, waiting');
    expect(after.arrows.map(({ on }) => on)).toContain('clock silent');
    expect(after.arrows.find(({ on }) => on === 'clock silent')).toEqual({
      on: 'clock silent',
      notes: ['says sampling.limit-silent'],
      to: 1,
    });
    expect(sampling[0]!.arrows.find(({ on }) => on === 'decided: label')).toEqual({
      on: 'decided: label',
      notes: ['goes on in labelling'],
      to: null,
    });
    expect(sampling.at(-1)).toMatchObject({ number: 0, name: 'from every step' });
  });

  it('lines share a column where they do not meet', () => {
    const step = (number: number, ...to: readonly number[]): Step => ({
      ...{ number, name: `s${number}`, does: [], isFirst: false, isLast: false },
      arrows: to.map((one) => ({ on: '', notes: [], to: one })),
    });
    const lanes = lanesOf([step(1, 3), step(2), step(3), step(4, 6), step(5), step(6, 1)]);
    const by = (to: number): Lane => lanes.find((lane) => lane.to === to)!;
    expect([by(2).column, by(5).column, by(0).column]).toEqual([0, 0, 1]);
  });
});
