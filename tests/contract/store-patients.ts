import { describe, expect, it } from 'vitest';
import type { CaseEvent } from '../../src/case/events.ts';
import type { Due } from '../../src/conversation/event.ts';
import type { FlowSet } from '../../src/conversation/flow.ts';
import { freshState } from '../../src/conversation/state.ts';
import type { FlowName } from '../../src/generated/flow-names.ts';
import type { StateName } from '../../src/generated/state-names.ts';
import { withFlowCalled, withStateCalled } from '../names/renamed.ts';
import { shipped } from '../support/shipped.ts';
import type { Given } from './given.ts';
import { change, dueEvent, grown, morning, person, programmeId, text, timer } from './store-samples.ts';

const said = (field: string, value: string): CaseEvent => ({ type: 'answered', field, item: null, value });
const named = (initials: string, sex = 'female') => [said('patient.initials', initials), said('patient.sex', sex)];

/** What every engine promises about finding a patient again. */
export function patientContract(given: Given): void {
  describe('cases of one patient', () => {
    const who = { siteId: 'hill', initials: 'AK', sex: 'female' };
    const alike = async (more = {}) =>
      (await given.store().casesAlike(programmeId, { ...who, ...more })).map((one) => one.value.id).sort();

    it('are found by site, initials and sex, closed ones too, and by nothing less', async () => {
      await given.openCase('c1', ...named('AK'));
      await given.openCase('c2', ...named('AK'), { type: 'closed', outcome: 'advice' });
      await given.openCase('c3', ...named('AK', 'male'));
      await given.openCase('c4', ...named('BO'));
      expect(await alike()).toEqual(['c1', 'c2']);
      expect(await alike({ siteId: 'vale' })).toEqual([]);
      expect(await alike({ initials: 'BO' })).toEqual(['c4']);
      await given.reopen();
      expect(await alike()).toEqual(['c1', 'c2']);
      expect(await given.store().verify()).toEqual([]);
    });

    it('follow a name that is put right, and are gone once erased', async () => {
      const before = await given.openCase('c1', ...named('AX'));
      expect(await alike()).toEqual([]);
      const after = grown('c1', [said('patient.initials', 'AK')], before);
      expect(await given.one(change('e2', { cases: [after] }))).toBe('committed');
      expect(await alike()).toEqual(['c1']);
      expect(await alike({ initials: 'AX' })).toEqual([]);
      await given.store().eraseCase('c1', morning);
      expect(await alike()).toEqual([]);
      expect(await given.store().verify()).toEqual([]);
    });

    it('come along where it matters: the earlier one with the examination, the later one with its day', async () => {
      const closed: CaseEvent = { type: 'closed', outcome: 'advice' };
      await given.openCase('c1', ...named('AK'), closed);
      await given.openCase('c2', ...named('AK'), { type: 'linked', earlierCaseId: 'c1' });
      const frame = { id: 'f', hash: '-', state: 'due', entry: 1, since: morning, item: null } as const;
      const thread = (caseId: string, flow: FlowName) => ({
        id: caseId,
        caseId,
        frames: [{ ...frame, flow, vars: {}, trail: [], returnTo: null }],
        ask: null,
      });
      const on = (caseId: string, flow: FlowName) => ({ ...freshState, threads: [thread(caseId, flow)] });
      const ids = async (personId: string) =>
        (await given.loaded(text(`x-${personId}`, personId, '1'))).cases.map((one) => one.value.id).sort();
      await given.one(change('e3', { conversation: { personId: 'w1', state: on('c2', 'new'), version: null } }));
      expect(await ids('w1')).toEqual(['c1', 'c2']);
      await given.one(change('e4', { conversation: { personId: 'w2', state: on('c1', 'review'), version: null } }));
      expect(await ids('w2')).toEqual(['c1', 'c2']);
      const day: Due = {
        ...timer('day', 'w1', morning),
        personId: null,
        frameId: null,
        caseId: 'c1',
        what: { kind: 'look-again', caseId: 'c1', item: null, told: 0 },
      };
      expect((await given.loaded(dueEvent(day))).cases.map((one) => one.value.id).sort()).toEqual(['c1', 'c2']);
    });

    it('come along by the traits of flows and states, whatever these are called', async () => {
      await given.openCase('c1', ...named('AK'), { type: 'closed', outcome: 'advice' });
      await given.openCase('c2', ...named('AK'), { type: 'linked', earlierCaseId: 'c1' });
      const days = withStateCalled(shipped, 'action', 'repeat-waits', 'that-day').flows;
      const called = withFlowCalled(shipped, 'review', 'look').flows;
      const frame = { id: 'f', hash: '-', entry: 1, since: morning, item: null, vars: {}, trail: [], returnTo: null };
      const at = async (flow: string, state: string, flows: FlowSet): Promise<readonly string[]> => {
        const id = `${flow}-${state}`;
        await given.store().putPeople([person(id)]);
        // Names that the product does not have.
        const named = { flow: flow as FlowName, state: state as StateName };
        const thread = { id: 't', caseId: 'c1', frames: [{ ...frame, ...named }], ask: null };
        const conversation = { personId: id, state: { ...freshState, threads: [thread] }, version: null };
        expect(await given.one(change(`by-${id}`, { conversation }))).toBe('committed');
        const [found] = await given.store().load([text(`x-${id}`, id, '1')], flows);
        return found!.cases.map((one) => one.value.id).sort();
      };
      expect(await at('action', 'that-day', days)).toEqual(['c1', 'c2']);
      expect(await at('action', 'seek', days)).toEqual(['c1']);
      expect(await at('look', 'due', called)).toEqual(['c1', 'c2']);
      const due: Due = {
        ...{ ...timer('day', 'w1', morning), frameId: null, caseId: 'c1' },
        what: { kind: 'run', flow: 'look' as FlowName, caseId: 'c1', item: null, vars: {} },
      };
      const [found] = await given.store().load([dueEvent(due)], called);
      expect(found!.cases.map((one) => one.value.id).sort()).toEqual(['c1', 'c2']);
    });
  });
}
