import { readdirSync, readFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import { checkContent } from '../../src/content/check-content.ts';
import { shippedNames } from '../../src/content/check-shipped.ts';
import { problemLine } from '../../src/content/problem.ts';
import { registry } from '../../src/conversation/matters.ts';
import { neverAsked } from '../hearing/corpus/ways.ts';
import { runs, soak } from '../support/runs.ts';
import { inEnglish as shipped } from '../support/shipped.ts';
import { enteredStates, startedFlows } from './called-by-code.ts';
import { transcriptOf, watched, withFlowCalled, withStateCalled } from './renamed.ts';

const folder = new URL('../conversations/', import.meta.url).pathname;
/** Each shows what one trait does: the day that is due at once, a booked repetition, an emergency, a frozen case, a node. */
const telling = [
  ...['outcome-emergency-now', 'patient-cannot-keep-still', 'second-thy1', 'same-patient-still-open'],
  ...[
    'node-tuberculosis',
    'doubled-answers',
    'back-to-the-checks',
    'back-past-what-lacked',
    'another-day-in-one-word',
    'label-mismatch',
    'thy3f',
    'thy1c-nothing-left',
    'patient-left',
    'back-to-a-good-result',
    'back-to-seen-after-a-result',
    'back-over-a-day-that-is-past',
  ],
];
const short = (name: string): number => readFileSync(`${folder}${name}`).length;
const plays = soak
  ? readdirSync(folder)
      .filter((name) => name.endsWith('.play'))
      .sort((a, b) => short(a) - short(b))
  : telling.map((name) => `${name}.play`);
/** Plays that one renaming is tried with. */
const mostPlays = runs(1, 6);

const flows = [...shipped.flows.newest.values()];
const states = flows.flatMap((flow) => [...flow.states.values()].map((state) => ({ flow: flow.name, state })));
/** A double, and whose answer it is, are asked about in many states, and by one mechanism each: one of them is shown. */
const shown = ({ flow, state }: (typeof states)[number]): boolean =>
  Object.keys(state.traits).some((one) => one !== 'doubled' && one !== 'ofWhom') ||
  ['new.examined', 'aftercare.neck'].includes(`${flow}.${state.name}`);
const renamedStates = states.filter((one) => soak || (shown(one) && !(`${one.flow}.${one.state.name}` in neverAsked)));

/** Shares no beginning with any name. */
const other = 'called-otherwise';

/** Problems that check finds when something is called otherwise, apart from that the build knows it by another name. */
const problems = (content: typeof shipped): readonly string[] => checkContent(content, registry).map(problemLine);
/** All that a start finds. */
const refused = (content: typeof shipped): readonly string[] =>
  checkContent(content, { ...registry, shipped: shippedNames }).map(problemLine);

describe('under another name', () => {
  const before = new Map<string, string>();
  const places = new Map<string, Set<string>>();

  beforeAll(async () => {
    for (const name of plays) {
      const seen = new Set<string>();
      before.set(
        name,
        await transcriptOf(
          `${folder}${name}`,
          watched(shipped, (place) => seen.add(place)),
        ),
      );
      places.set(name, seen);
    }
  }, 600_000);

  /** What is said otherwise than before, by play, in those that come to such a place. */
  async function changedBy(content: typeof shipped, isThere: (place: string) => boolean): Promise<readonly string[]> {
    const there = plays.filter((name) => [...places.get(name)!].some(isThere));
    if (!soak) expect(there).not.toEqual([]);
    const changed: string[] = [];
    for (const name of there.slice(0, mostPlays)) {
      if ((await transcriptOf(`${folder}${name}`, content)) !== before.get(name)) changed.push(name);
    }
    return changed;
  }

  it.each([...startedFlows])('the flow %s, which code starts, is refused', (name) => {
    expect(refused(withFlowCalled(shipped, name, other))).toEqual([
      expect.stringContaining(`there is no flow ${name} `),
    ]);
  });

  it.each([...enteredStates])('the state %s, which code enters, is refused', (place) => {
    const [flow, name] = place.split('.') as [string, string];
    expect(refused(withStateCalled(shipped, flow, name, other))).toEqual([
      expect.stringContaining(`there is no state ${name} `),
    ]);
  });

  it.each(flows.map((one) => one.name).filter((name) => !startedFlows.has(name)))(
    'the flow %s says the same',
    async (name) => {
      const content = withFlowCalled(shipped, name, other);
      expect(problems(content)).toEqual([]);
      expect(await changedBy(content, (place) => place.startsWith(`${name}.`))).toEqual([]);
    },
    120_000,
  );

  it.each(renamedStates.map(({ flow, state }) => `${flow}.${state.name}`).filter((place) => !enteredStates.has(place)))(
    'the state %s says the same',
    async (place) => {
      const [flow, name] = place.split('.') as [string, string];
      const content = withStateCalled(shipped, flow, name, other);
      expect(problems(content)).toEqual([]);
      expect(await changedBy(content, (one) => one === place)).toEqual([]);
    },
    120_000,
  );
});
