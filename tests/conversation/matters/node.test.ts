import { describe, expect, it } from 'vitest';
import type { CaseEvent } from '../../../src/case/events.ts';
import type { NodeLevel, Target } from '../../../src/case/target.ts';
import { halfDried, slidesWorth } from '../../../src/conversation/matters/fixing.ts';
import { labelOf } from '../../../src/conversation/matters/labelling.ts';
import { node, nodeNotes } from '../../../src/conversation/matters/node.ts';
import { ready } from '../../../src/conversation/matters/ready.ts';
import { sampledWords } from '../../../src/conversation/matters/sampled-words.ts';
import { sampling } from '../../../src/conversation/matters/sampling.ts';
import type { Act } from '../../../src/conversation/moment.ts';
import { decidedCase, momentOf, said, wellSupplied } from './moment-of.ts';

/** A case that goes ahead with a neck node of the left side, 18 mm, beside these lumps. */
function withNode(...lumps: readonly string[]): readonly CaseEvent[] {
  return decidedCase(lumps).map((event) =>
    event.type === 'decided'
      ? { ...event, proposed: [...event.proposed, { kind: 'node', nodule: null, site: 'left', mm: 18 }] }
      : event,
  );
}

function sampled(level: NodeLevel | null, slides: readonly ('wet-at-once' | 'dried')[]): readonly CaseEvent[] {
  const target: Target = { kind: 'node', side: 'left', mm: [18], level };
  return [
    ...withNode(),
    wellSupplied,
    { type: 'code-issued', specimen: 's1', target, code: '48291354', technique: 'holder', slides: 2 },
    { type: 'code-checked', specimen: 's1' },
    { type: 'attempted', specimen: 's1', attempt: 1, outcome: 'material' },
    { type: 'slides-fixed', specimen: 's1', fixative: 'alcohol', slides },
  ];
}

const outcomeOf = (events: readonly CaseEvent[], name: string, item: string | null = null): string => {
  const decided = node.decisions![name]!.decide(momentOf(events, { item }));
  return typeof decided === 'string' ? decided : decided.outcome;
};
const recorded = (acts: readonly Act[]): readonly CaseEvent[] =>
  acts.flatMap((act) => (act.do === 'record' ? [act.event] : []));
const ITEM = 'node-left';
const level = said('level', 'ii', ITEM);
const still = said('node-pulse', 'still', ITEM);

describe('a neck node before its needle', () => {
  it('is asked where it lies, whether it beats, and for the pot, before anything is laid out', () => {
    expect(outcomeOf(withNode('n1'), 'next-node')).toBe('which-level');
    expect(outcomeOf([...withNode('n1'), level], 'next-node')).toBe('pulse');
    expect(outcomeOf([...withNode('n1'), level, still], 'next-node')).toBe('pot');
    expect(outcomeOf([...withNode('n1'), level, still, said('node-pot', 'no-pot')], 'next-node')).toBe('known');
  });

  it.each(['beats', 'unknown'] as const)('that was found to be "%s" gets none when it is proposed anew', (found) => {
    expect(outcomeOf([...withNode('n1'), level, said('node-pulse', found, ITEM)], 'next-node')).toBe('beats');
  });

  it('just above the collarbone it gets none when it is proposed anew, unless it can be seen', () => {
    const low = [...withNode('n1'), said('level', 'low', ITEM), said('ultrasound.done', true)];
    const next = (siteId: string) => {
      const moment = momentOf(low, { siteId });
      const decided = node.decisions!['next-node']!.decide({ ...moment, case: { ...moment.case!, siteId } });
      return typeof decided === 'string' ? decided : decided.outcome;
    };
    expect(next('kesu')).toBe('blind');
    expect(next('oruma')).toBe('pulse');
  });

  it('nothing of it is asked where only a lump is proposed', () => {
    expect(outcomeOf(decidedCase(), 'next-node')).toBe('known');
  });

  it.each([
    ['oruma', true, 'guided'],
    ['oruma', false, 'blind'],
    ['kesu', true, 'blind'],
  ])('above the collarbone at %s, scanned %s: %s', (siteId, done, outcome) => {
    const moment = momentOf([...withNode(), said('ultrasound.done', done)], { siteId, item: ITEM });
    const opened = { ...moment, case: { ...moment.case!, siteId } };
    expect(node.decisions!['node-guided']!.decide(opened)).toBe(outcome);
  });

  it('a tube for thyroglobulin is asked of a laboratory that tests it, and of no other', () => {
    const tests = (siteId: string) => {
      const moment = momentOf(withNode(), { siteId });
      return node.decisions!['lab-tests-thyroglobulin']!.decide({ ...moment, case: { ...moment.case!, siteId } });
    };
    expect(tests('oruma')).toBe('no');
    expect(tests('kesu')).toBe('yes');
  });

  it('that beats is proposed no more, and the lump beside it still is', () => {
    const acts = node.recorders!['node-not-needled']!(momentOf(withNode('n1'), { item: ITEM }));
    const [decided, ...more] = recorded(acts);
    expect(decided).toMatchObject({ type: 'decided', proposed: [{ kind: 'nodule', nodule: 'n1' }] });
    expect(more).toEqual([]);
  });

  it('that beats, with nothing else to sample, leaves an urgent referral and no needle', () => {
    const acts = node.recorders!['node-not-needled']!(momentOf(withNode(), { item: ITEM }));
    expect(recorded(acts)).toMatchObject([
      { type: 'decided', proposed: [] },
      { type: 'answered', field: 'go-ahead', value: null },
      { type: 'not-sampled', why: 'referred-urgently' },
    ]);
  });
});

describe('a neck node is sampled', () => {
  it('with suction where there is a way to suck, and its level goes with the code', () => {
    const helper = said('supplies', ['syringe', 'fine-needles', 'slides-many', 'alcohol-lidded', 'helper']);
    const issued = recorded(ready.recorders!['issue-codes']!(momentOf([...withNode('n1'), level, helper])));
    expect(issued).toMatchObject([
      { target: { kind: 'nodule' }, technique: 'capillary' },
      { target: { kind: 'node', side: 'left', mm: [18], level: 'II' }, technique: 'second-operator' },
    ]);
  });

  it('one slide dried and one wet, and the dried one is of use to a laboratory that stains wet ones', () => {
    const moment = momentOf(sampled('II', ['wet-at-once', 'dried']), { item: 's1' });
    expect(halfDried(moment)).toBe(true);
    expect(slidesWorth(moment, moment.specimen!).overall).toBe('usable');
    expect(sampling.decisions!['slides-usable']!.decide(moment)).toBe('usable');
  });

  it('its label says NECK NODE with side and level', () => {
    const moment = momentOf(sampled('II', ['wet-at-once', 'dried']), { item: 's1' });
    expect(labelOf(moment)).toMatchObject({ side: 'left', node: { level: 'II' }, mm: [18] });
  });

  it.each([
    [
      [said('node-look', 'pus', 's1'), said('node-rest', 'flushed', 's1')],
      'The needle brought: pus. The rest is in a pot with STERILE SALINE, for tuberculosis.',
    ],
    [[said('node-look', 'unknown', 's1')], 'There is no pot for tuberculosis: please stain the dried slide for it.'],
    [
      [said('node-rest', 'flushed', 's1'), said('node-tube', 'filled', 's1')],
      'The rest is in a pot with STERILE SALINE, for tuberculosis. A rinse tube for thyroglobulin goes along.',
    ],
  ])('what came out goes to the laboratory (%#)', (answers, words) => {
    const moment = momentOf([...sampled('II', ['wet-at-once']), ...answers], { item: 's1' });
    expect(nodeNotes(moment).join(' ')).toBe(words);
  });

  it('request and read-back name the node, its side and level', () => {
    const moment = momentOf(sampled('III', ['wet-at-once']), { item: 's1' });
    expect(sampledWords.sampledWhere!.of(moment)).toBe('NECK NODE LEFT level III');
    expect(sampledWords.sampled!.of(moment)).toBe('NECK NODE L level III 18');
    expect(sampledWords.sampledShort!.of(moment)).toBe('NODE L');
  });
});
