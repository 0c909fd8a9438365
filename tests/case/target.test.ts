import { describe, expect, it } from 'vitest';
import { type Case, evolve } from '../../src/case/case.ts';
import type { CaseEvent } from '../../src/case/events.ts';
import { aimsOf, needsPlace, targetOf } from '../../src/case/target.ts';
import type { Proposed } from '../../src/clinical/proposed.ts';
import { answered, caseOf } from '../support/case-fixture.ts';
import { proposals } from '../support/targets.ts';

const born: CaseEvent = { type: 'opened', tag: 'ZU', siteId: 'oruma', ownerId: 'w', practice: false };

/** An event in the shape in which an earlier version stored it. */
function stored(event: object): CaseEvent {
  return event as CaseEvent;
}

function decided(...proposed: readonly Proposed[]): CaseEvent {
  return { type: 'decided', decision: 'sample', policy: 'common-practice', assessment: {}, proposed };
}

const felt: Proposed = { kind: 'nodule', nodule: null, site: null, mm: null };
const node: Proposed = { kind: 'node', nodule: null, site: null, mm: null };

function aimed(...events: readonly CaseEvent[]): ReturnType<typeof aimsOf> {
  return aimsOf(caseOf([born, ...events]));
}

describe('what a needle goes into', () => {
  it('a measured lump brings its side and all its diameters, largest first', () => {
    const [aim] = aimed(
      answered('site', 'left', 'n1'),
      answered('mm', [12, 31, 18], 'n1'),
      decided(...proposals('n1')),
    );
    expect(targetOf({ ...aim!, side: 'left' })).toEqual({
      kind: 'nodule',
      nodule: 'n1',
      side: 'left',
      mm: [31, 18, 12],
      place: null,
    });
  });

  it('a lump that is felt on one side alone is of that side, and is nothing to sample without a size', () => {
    const events = [answered('felt', ['left']), decided(felt)];
    expect(aimed(...events)[0]).toMatchObject({ item: 'felt', side: 'left', mm: [] });
    expect(targetOf(aimed(...events)[0]!)).toBeNull();
    expect(targetOf(aimed(...events, answered('mm', [40], 'felt'))[0]!)).toMatchObject({ side: 'left', mm: [40] });
  });

  it.each([[['left', 'right']], [[]]])('felt %j: no side is invented', (sides) => {
    const [aim] = aimed(answered('felt', sides), answered('mm', [40], 'felt'), decided(felt));
    expect([aim!.side, targetOf(aim!)]).toEqual([null, null]);
  });

  it('the side of a felt lump says nothing of a neck node', () => {
    expect(aimed(answered('felt', ['left']), decided(node))[0]).toMatchObject({ item: 'node', side: null });
  });

  it('a node in the middle is none', () => {
    const [aim] = aimed(answered('site', 'isthmus', 'node'), answered('mm', [14], 'node'), decided(node));
    expect(targetOf(aim!)).toBeNull();
  });

  it('two lumps of one side are told apart by their place', () => {
    const two: readonly Proposed[] = [
      { kind: 'nodule', nodule: 'n1', site: 'right', mm: 30 },
      { kind: 'nodule', nodule: 'n2', site: 'right', mm: 12 },
    ];
    const aims = aimed(decided(...two));
    expect(aims.map((one) => needsPlace(aims, one))).toEqual([true, true]);
    const placed = aimed(decided(...two), answered('place', 'lower', 'n2'));
    expect(placed.map((one) => needsPlace(placed, one))).toEqual([true, false]);
    const apart = aimed(decided(two[0]!, { ...two[1]!, site: 'left' }));
    expect(apart.map((one) => needsPlace(apart, one))).toEqual([false, false]);
  });
});

describe('a history of an earlier version', () => {
  const issued = stored({
    type: 'code-issued',
    specimen: 's1',
    nodule: 'n1',
    code: '48291354',
    technique: 'capillary',
    slides: 4,
  });
  const decidedBefore = stored({ ...decided(), proposed: ['n1'] });
  const specimenOf = (...events: readonly CaseEvent[]): Case['specimens'][number] =>
    caseOf([born, ...events, decidedBefore, issued]).specimens[0]!;

  it('a code of a measured lump is read with the side and size that were answered', () => {
    const of = specimenOf(answered('site', 'left', 'n1'), answered('mm', [22, 15, 14], 'n1'));
    expect(of.target).toEqual({ kind: 'nodule', nodule: 'n1', side: 'left', mm: [22, 15, 14], place: null });
    expect(of).not.toHaveProperty('nodule');
  });

  it('a code of a lump that was only felt is read with the side where it was felt', () => {
    expect(specimenOf(answered('felt', ['left'])).target).toMatchObject({ side: 'left', mm: [] });
  });

  it('what was proposed by its id is read as a lump, and what is told of the code names its target', () => {
    const of = caseOf([born, answered('site', 'left', 'n1'), answered('mm', [9], 'n1'), decidedBefore, issued]);
    expect(of.decided?.proposed).toEqual([{ kind: 'nodule', nodule: 'n1', site: 'left', mm: 9 }]);
    expect(of.milestones.at(-1)!.event).toMatchObject({ type: 'code-issued', target: { side: 'left', mm: [9] } });
  });

  it('what is written today is not touched', () => {
    const before = caseOf([born, decided(felt)]);
    const event: CaseEvent = decided(node);
    const after = evolve(before, { caseId: 'case', sequence: 3, at: 1, by: 'w', eventId: 'e', event });
    expect(after.decided?.proposed).toBe(event.type === 'decided' ? event.proposed : null);
  });
});
