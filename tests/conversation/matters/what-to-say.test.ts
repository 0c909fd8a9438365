import { describe, expect, it } from 'vitest';
import type { CaseEvent } from '../../../src/case/events.ts';
import type { TumourType } from '../../../src/clinical/cytology/result-words.ts';
import { type Around, whatToSay } from '../../../src/conversation/matters/what-to-say.ts';
import { screensOf } from '../../../src/text/screens.ts';
import { answered, caseOf, filed, labelled, opened } from '../../support/case-fixture.ts';
import { shipped } from '../../support/shipped.ts';

const base = [...opened, ...labelled('s1', 'n1', '48291354')];
const quiet: Around = { alarm: null, parcelLost: false };

/** The words after these events, of the first specimen. */
function said(events: readonly CaseEvent[], around: Around = quiet): string {
  return whatToSay(caseOf(events), 's1', around);
}

function named(code: string, types: readonly TumourType[]): CaseEvent {
  const event = filed('s1', code, code);
  if (event.type !== 'result-filed') throw new Error('not filed');
  return { ...event, result: { ...event.result, types } };
}

const decidedAs = (decision: string): CaseEvent => ({
  ...{ type: 'decided', decision, policy: 'common-practice', assessment: { nodules: [] }, proposed: [] },
});

const acknowledged = (answer: string): CaseEvent => ({ type: 'acknowledged', specimen: 's1', answer });

describe('what a worker may read to the patient', () => {
  it.each([
    ['Thy1', 'Thy1', 'unreadable'],
    ['Bethesda I', 'Thy1/1c', 'unreadable'],
    ['Thy1c', 'Thy1c', 'cyst-fluid'],
    ['Thy2', 'Thy2', 'benign'],
    ['Thy3a', 'Thy3a', 'unclear'],
    ['Thy3f', 'Thy3f', 'not-by-needle'],
    ['Thy4', 'Thy4', 'bad-news-likely'],
    ['Bethesda VI', 'Thy5', 'bad-news-seen'],
    ['L1', 'L1', 'unreadable'],
    ['L2', 'L2', 'node-benign'],
    ['L3', 'L3', 'node-unclear'],
    ['L4', 'L4', 'bad-news-node-likely'],
    ['L5', 'L5', 'bad-news-node-seen'],
  ])('of a result %s (%s): %s', (code, canonical, saying) => {
    expect(said([...base, filed('s1', code, canonical)])).toBe(saying);
  });

  it.each<[string, readonly TumourType[]]>([
    ['Thy1c', ['metastasis']],
    ['Thy2', ['lymphoma']],
    ['Thy3a', ['medullary']],
    ['Thy3f', ['cancer']],
    ['L2', ['lymphoma']],
  ])('a grave word beside %s is never softened', (code, types) => {
    expect(said([...base, named(code, types)])).toBe('bad-news-named');
  });

  it.each([
    ['Thy2', 'refer', 'doctor-refers'],
    ['Thy2', 'repeat', 'doctor-repeats'],
    ['Thy1', 'repeat', 'unreadable'],
    ['Thy1', 'refer', 'doctor-refers'],
    ['Thy4', 'repeat', 'bad-news-likely'],
  ])('of %s after the doctor said %s: %s', (code, answer, saying) => {
    expect(said([...base, filed('s1', code, code), acknowledged(answer)])).toBe(saying);
  });

  it('the newest result counts, and one that the laboratory cannot use says nothing', () => {
    const corrected = [...base, filed('s1', 'Thy2', 'Thy2'), filed('s1', 'Thy5', 'Thy5', 0)];
    expect(said(corrected)).toBe('bad-news-seen');
    const rejected: CaseEvent = { type: 'rejected', specimen: 's1', reason: 'no-name' };
    expect(said([...base, filed('s1', 'Thy2', 'Thy2'), rejected])).toBe('unusable');
  });

  it('a result that is held is not told', () => {
    const frozen: CaseEvent = { type: 'frozen', why: 'bad-after-result:s1' };
    const after: CaseEvent = { type: 'aftercare-done', outcome: 'well' };
    const posted: CaseEvent = { type: 'posted', specimens: ['s1'], labId: 'velin' };
    expect(said([...base, after, posted, filed('s1', 'Thy2', 'Thy2'), frozen])).toBe('stopped');
  });

  it('a patient who refused what was advised hears no result again', () => {
    const told: CaseEvent = { type: 'told', specimen: 's1', outcome: 'refuses' };
    expect(said([...base, filed('s1', 'Thy5', 'Thy5'), told])).toBe('refusal-of-result');
  });

  it.each([
    ['emergency-now', 'emergency'],
    ['refer-urgent', 'referral-urgent'],
    ['refer-first', 'referral'],
    ['sample-elsewhere', 'referral'],
    ['sample', 'consent'],
    ['optional', 'consent'],
    ['follow-up', 'follow-up'],
    ['no-sampling', 'no-needle'],
    ['ask-doctor', 'doctor-decides'],
    ['examine-first', 'findings'],
  ])('decided %s: %s', (decision, saying) => {
    expect(said([opened[0]!, decidedAs(decision)])).toBe(saying);
  });

  it('goes along with the needle, its watch and the post', () => {
    const code = base.slice(0, opened.length + 1);
    expect(said(opened.slice(0, 3))).toBe('findings');
    expect(said([...opened, answered('go-ahead', 'now')])).toBe('consent');
    expect(said(code)).toBe('consent');
    expect(said([...code, { type: 'code-checked', specimen: 's1' }])).toBe('needle');
    expect(said(base.slice(0, -1))).toBe('after-needle');
    expect(said(base)).toBe('going-home');
    const home: readonly CaseEvent[] = [...base, { type: 'aftercare-done', outcome: 'well' }];
    expect(said(home)).toBe('waiting');
    const posted: CaseEvent = { type: 'posted', specimens: ['s1'], labId: 'velin' };
    expect(said([...home, posted], { ...quiet, parcelLost: true })).toBe('parcel-lost');
  });

  it('an alarm comes before all else, and a refusal before the needle', () => {
    expect(said([...base, filed('s1', 'Thy2', 'Thy2')], { ...quiet, alarm: 'emergency' })).toBe('emergency');
    expect(said(base, { ...quiet, alarm: 'first-aid' })).toBe('first-aid');
    expect(said([...opened, answered('left', 'refuses')])).toBe('refusal');
  });

  it('a case that was ended for a reason of its own has no words', () => {
    expect(said([...opened, { type: 'closed', outcome: 'ended' }])).toBe('nothing');
  });
});

describe('the words themselves', () => {
  const own = shipped.sources.locales.find((one) => one.tag === 'en')!.files.find((one) => one.name === 'say')!;

  it.each([...own.texts])('%s: at most two screens, no category, no comfort that may be false', (_key, text) => {
    expect(screensOf(text).length).toBeLessThanOrEqual(2);
    expect(text).not.toMatch(/thy\s?\d|bethesda|\btir\d|\bL[1-5]\b/iu);
    expect(text).not.toMatch(
      /\b(do not worry|nothing serious|harmless|all is well|will be fine|cured?|everything is)\b/iu,
    );
  });

  it('bad news is told sitting, slowly, with a pause, and asks who goes along', () => {
    for (const [, text] of [...own.texts].filter(([key]) => key.startsWith('bad-news'))) {
      expect(text).toMatch(/sit down together/u);
      expect(text).toMatch(/be silent and wait/u);
      expect(text).toMatch(/Who can go with you/u);
    }
  });
});
