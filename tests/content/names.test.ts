import { describe, expect, it } from 'vitest';
import type { ReadValues } from '../../src/case/read-values.ts';
import { checkContent } from '../../src/content/check-content.ts';
import { checkShipped, shippedNames } from '../../src/content/check-shipped.ts';
import { fieldTypes } from '../../src/content/field-types.ts';
import { fieldRows } from '../../src/content/fields.ts';
import type { Content } from '../../src/content/load.ts';
import { flowSet } from '../../src/content/load.ts';
import { namesOf } from '../../src/content/names.ts';
import { problemLine } from '../../src/content/problem.ts';
import { baseKey } from '../../src/content/texts.ts';
import type { Flow } from '../../src/conversation/flow.ts';
import { registry } from '../../src/conversation/matters.ts';
import type { FlowName } from '../../src/generated/flow-names.ts';
import { flowNames } from '../../src/generated/flow-names.ts';
import type { OptionId } from '../../src/generated/option-ids.ts';
import type { StateName } from '../../src/generated/state-names.ts';
import type { TextKey } from '../../src/generated/text-keys.ts';
import { shipped } from '../support/shipped.ts';

const [english] = shipped.sources.locales.filter((one) => one.tag === 'en');
const texts = english!.files.flatMap((file) =>
  [...new Set([...file.texts.keys()].map(baseKey))].map((key) => [file.name, key] as const),
);
const states = shipped.sources.flows.flatMap(({ flow }) =>
  [...flow.states.keys()].map((state) => [flow.name, state] as const),
);
const options = fieldRows(shipped.flows).flatMap((row) =>
  row.options.map(({ id }) => [row.flow, row.state, id] as const),
);

/** The package without one text of the English. */
function withoutText(name: string, key: string): Content {
  const files = english!.files.map((file) =>
    file.name === name ? { ...file, texts: new Map([...file.texts].filter(([own]) => baseKey(own) !== key)) } : file,
  );
  return { ...shipped, sources: { ...shipped.sources, locales: [{ ...english!, files }] } };
}

/** The package with its flows changed. */
function withFlows(change: (flow: Flow) => Flow): Content {
  const flows = shipped.sources.flows.map((source) => ({ ...source, flow: change(source.flow) }));
  return { ...shipped, flows: flowSet(flows.map((one) => one.flow)), sources: { ...shipped.sources, flows } };
}

function withoutState(name: string, state: string): Content {
  return withFlows((flow) =>
    flow.name === name ? { ...flow, states: new Map([...flow.states].filter(([own]) => own !== state)) } : flow,
  );
}

function withoutOption(name: string, state: string, id: string): Content {
  return withFlows((flow) => {
    const at = flow.states.get(state);
    if (flow.name !== name || !at?.ask) return flow;
    const ask = { ...at.ask, options: at.ask.options.filter((one) => one.id !== id) };
    return { ...flow, states: new Map(flow.states).set(state, { ...at, ask }) };
  });
}

const said = (content: Content) => checkShipped(content, shippedNames).map(problemLine);

describe('the names of the build', () => {
  it('are those of the English texts and of the flows; else run npm run names', () => {
    expect(shippedNames).toEqual(namesOf(shipped));
    expect(flowNames).toEqual(Object.keys(shippedNames.stateNames));
    expect(texts.length).toBeGreaterThan(1000);
  });

  it('type every answer that a flow records', async () => {
    const { readFileSync } = await import('node:fs');
    const source = readFileSync(new URL('../../src/generated/fields.ts', import.meta.url), 'utf8');
    const written = [...source.matchAll(/^ {2}readonly '?([\w.-]+)'?: (.*);$/gm)].map((one) => [one[1], one[2]]);
    expect(written).toEqual(fieldTypes(shipped.flows));
  });

  it('are all there in the package', () => {
    expect(said(shipped)).toEqual([]);
  });

  it('refuse content that lacks a text, by file and key, whichever it is', () => {
    const missed = texts.filter(([name, key]) => {
      const lines = said(withoutText(name, key));
      return (
        lines.length !== 1 ||
        !lines[0]!.startsWith(`locales/en/${name}.json:1  ${key}  there is no text ${name}.${key}  `)
      );
    });
    expect(missed).toEqual([]);
  });

  it('refuse content that lacks a whole file of texts', () => {
    const files = english!.files.filter((one) => one.name !== 'people');
    const lines = said({ ...shipped, sources: { ...shipped.sources, locales: [{ ...english!, files }] } });
    expect(lines).toContain(
      'locales/en/people.json:1  taken  there is no text people.taken  put it back: the program says it',
    );
  });

  it('refuse content that lacks a state, by file and name, whichever it is', () => {
    const missed = states.filter(([flow, state]) => {
      const lines = said(withoutState(flow, state));
      return !lines.some(
        (line) => line.startsWith(`flows/${flow}.yaml:`) && line.includes(`there is no state ${state}  `),
      );
    });
    expect(missed).toEqual([]);
  });

  it('refuse content that lacks a flow, whichever it is', () => {
    const missed = flowNames.filter((name) => {
      const flows = shipped.sources.flows.filter((one) => one.flow.name !== name);
      const content = {
        ...shipped,
        flows: flowSet(flows.map((one) => one.flow)),
        sources: { ...shipped.sources, flows },
      };
      return !said(content).includes(
        `flows/${name}.yaml:1  flow  there is no flow ${name}  put it back: the program knows it by this name`,
      );
    });
    expect(missed).toEqual([]);
  });

  it('refuse content that lacks an option, by question, whichever it is', () => {
    const missed = options.filter(([flow, state, id]) => {
      const lines = said(withoutOption(flow, state, id));
      const [line = ''] = lines;
      return (
        lines.length !== 1 || !line.includes(`  states.${state}.ask  `) || !line.includes(` has no option ${id}  `)
      );
    });
    expect(missed).toEqual([]);
  });

  it('are part of what a start and check look at', () => {
    const names = { ...registry, shipped: shippedNames };
    const lines = (content: Content) => checkContent(content, names).map(problemLine);
    expect(lines(withoutText('doctor', 'noted'))).toEqual([
      'locales/en/doctor.json:1  noted  there is no text doctor.noted  put it back: the program says it',
    ]);
    expect(lines(withoutState('referral', 'seen')).length).toBeGreaterThan(0);
    expect(checkContent(withoutText('doctor', 'noted'), registry)).toEqual([]);
  });

  it('do not compile where code names what is not there', () => {
    // @ts-expect-error no such text
    const text: TextKey = 'doctor.not-noted';
    // @ts-expect-error no such flow
    const flow: FlowName = 'reviews';
    // @ts-expect-error a state of another flow
    const state: StateName<'review'> = 'repeat-waits';
    // @ts-expect-error an option of another question
    const option: OptionId<'tsh'> = 'agrees';
    // @ts-expect-error a question's own reader whose value has no type
    type Untyped = ReadValues['slide-code'];
    const untyped: readonly Untyped[] = [];
    expect([text, flow, state, option, untyped]).toHaveLength(5);
  });
});
