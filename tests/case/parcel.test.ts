import { describe, expect, it } from 'vitest';
import type { CaseEvent } from '../../src/case/events.ts';
import { bloodySlides, manifest, readyToPost, slidesSent } from '../../src/case/parcel.ts';
import { caseOf, labelled, opened } from '../support/case-fixture.ts';

const watched: CaseEvent = { type: 'aftercare-done', outcome: 'well-and-told' };

describe('what goes into a parcel', () => {
  it('nothing goes before the watch over the neck is over', () => {
    expect(readyToPost(caseOf([...opened, ...labelled('s1', 'n1', '48291354')]))).toEqual([]);
  });

  it('a labelled specimen goes after it, with the slides that hold something', () => {
    const of = caseOf([...opened, ...labelled('s1', 'n1', '48291354'), watched]);
    expect(manifest([of])).toEqual([{ caseId: 'case', specimenId: 's1', code: '48291354', slides: 3 }]);
  });

  it('a practice case never goes', () => {
    const practice = opened.map((event) => (event.type === 'opened' ? { ...event, practice: true } : event));
    expect(manifest([caseOf([...practice, ...labelled('s1', 'n1', '48291354'), watched])])).toEqual([]);
  });

  it('what was posted or ended does not go again', () => {
    const two = [...opened, ...labelled('s1', 'n1', '48291354'), ...labelled('s2', 'n2', '11111157'), watched];
    const of = caseOf([
      ...two,
      { type: 'posted', specimens: ['s1'], labId: 'velin' },
      { type: 'specimen-closed', specimen: 's2', end: 'not-usable' },
    ]);
    expect(readyToPost(of)).toEqual([]);
    expect(readyToPost(caseOf(two)).map((one) => one.id)).toEqual(['s1', 's2']);
  });

  it('bloody slides are named by the pair of their attempt, empty ones left out', () => {
    const [specimen] = caseOf([...opened, ...labelled('s1', 'n1', '48291354')]).specimens;
    expect(slidesSent(specimen!)).toBe(3);
    expect(bloodySlides(specimen!)).toEqual(['1']);
  });
});
