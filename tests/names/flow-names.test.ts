import { describe, expect, it } from 'vitest';
import { flowNames } from '../../src/generated/flow-names.ts';
import { shipped } from '../support/shipped.ts';
import { enteredStates, files, startedFlows } from './called-by-code.ts';
import { type NameUse, nameUses } from './name-uses.ts';

const flows = [...shipped.flows.newest.values()];
const names = new Set(flows.flatMap((flow) => [flow.name, ...flow.states.keys()]));

/** A subject knows its own flow, and no other; it starts it too, so that check misses it under another name. */
const own: Readonly<Record<string, readonly string[]>> = {
  'conversation/matters/ask.ts': ['ask'],
  'conversation/matters/confirm.ts': ['read-back'],
  'conversation/matters/freeze.ts': ['freeze'],
  'conversation/matters/roster.ts': ['staff'],
  'conversation/matters/stands.ts': ['stands'],
};

/** Words of subjects, of cases and of findings may be called as a state is: only engine, store and line may list none. */
const mayList = /^(clinical|case|conversation\/matters|generated)\//u;

function isAllowed(file: string, use: NameUse): boolean {
  if (use.how === 'listed') return mayList.test(file);
  return (own[file] ?? []).some((name) => use.text.endsWith(`'${name}'`));
}

const seen = (source: string): readonly string[] => nameUses(source, names).map((use) => use.how);

describe('the name of a flow or of a state', () => {
  it('decides nothing outside its own subject: engine, store and line ask for traits', () => {
    const known = files.flatMap(({ name, source }) =>
      nameUses(source, names)
        .filter((use) => !isAllowed(name, use))
        .map((use) => `${name}:${use.line} ${use.how}: ${use.text}`),
    );
    expect(known).toEqual([]);
  });

  it('is known to a subject that starts the flow itself', () => {
    expect(
      Object.values(own)
        .flat()
        .filter((name) => !startedFlows.has(name)),
    ).toEqual([]);
  });

  it('is found wherever something is compared with it, looked up by it or listed', () => {
    expect(seen(`if (topFrame(one)?.flow === 'sos') return;`)).toEqual(['compared']);
    expect(seen(`if ('sos' !== frame.flow) return;`)).toEqual(['compared']);
    expect(seen(`if ((frame?.flow ?? '') === 'cry') return;`)).toEqual(['compared']);
    expect(seen(`frames.some((one) => one.state === 'repeat-waits')`)).toEqual(['compared']);
    expect(seen(`switch (frame.flow) {\n  case 'sos':`)).toEqual(['compared']);
    expect(seen(`atTheBed.has(topFrame(asking)?.flow ?? '')`)).toEqual(['looked up']);
    expect(seen(`waitsForDay.get(top.flow) !== top.state`)).toEqual(['looked up']);
    expect(seen(`act.states.includes(frames.at(-1)!.state)`)).toEqual(['looked up']);
    expect(seen(`const lane = lanes[frame.flow];`)).toEqual(['looked up']);
    expect(seen(`const beds = new Set(['sampling', 'labelling']);`)).toEqual(['listed']);
    expect(seen(`const days = new Map([['decision', 'waits-for-day']]);`)).toEqual(['listed']);
    expect(seen(`const flowOf = { findings: 'new', readiness: 'ready', closed: null };`)).toEqual(['listed']);
  });

  it('is not found where a person, a link or a structure is asked', () => {
    expect(seen(`if (person.state === 'joined') return; // frame.flow === 'sos'`)).toEqual([]);
    expect(seen(`flows.newest.get(frame.flow) ?? flow.states.get(frame.state)`)).toEqual([]);
  });

  it('is handed over by code only where the build knows it, so that check refuses content without it', () => {
    expect([...startedFlows].filter((name) => !(flowNames as readonly string[]).includes(name))).toEqual([]);
    expect(startedFlows.size).toBeGreaterThan(10);
    expect([...enteredStates]).toEqual(['sos.sign']);
  });
});
