import { describe, expect, it } from 'vitest';
import type { Case } from '../../../src/case/case.ts';
import type { Json } from '../../../src/case/events.ts';
import type { Question } from '../../../src/conversation/state.ts';
import type { TextKey } from '../../../src/generated/text-keys.ts';
import type { ChangeSet, OutboundMessage } from '../../../src/line/ports.ts';
import { codeIssued, madeUp, opened } from '../../walker/invariants/made-up.ts';
import { shipped } from '../shipped.ts';
import { Ledger } from './ledger.ts';
import { saidIn } from './pattern.ts';
import { claims } from './table.ts';

const from = Date.UTC(2030, 2, 12, 7);

const person = (id: string, role: 'worker' | 'doctor' | 'coordinator') => ({
  ...{ id, programmeId: 'tamboro', name: id, roles: [role], siteId: 'oruma', locale: 'en', rank: 1, practised: true },
  ...{ addresses: [{ channel: 'sms', address: `+${id}` }], state: 'joined' as const, shared: false },
});

const text = (key: TextKey, values: Readonly<Record<string, string>> = {}): string =>
  shipped.texts.render('en', key, (name) => values[name] ?? 'X');

const message = (to: string, words: string, caseId: string | null = 'case'): OutboundMessage =>
  ({ id: `${to}:${words}`, personId: to, caseId, at: from, text: words, code: null }) as OutboundMessage;

/** What was not so among these texts of one instant. */
function untrue(
  outbox: readonly OutboundMessage[],
  { of = madeUp([opened]).of, questions = [] }: { of?: Case; questions?: readonly Partial<Question>[] } = {},
): readonly string[] {
  const ledger = new Ledger();
  ledger.know([person('w', 'worker'), person('d', 'doctor'), person('c', 'coordinator')]);
  ledger.keep({
    ...{ at: from, cases: [{ value: of, version: null, records: [] }], people: [], conversation: null },
    ...{ cancelDue: [], doneDue: null, due: [], outbox },
    questions: questions.map((one) => ({ value: { caseId: 'case', answeredAt: null, askedOf: ['d'], ...one } })),
  } as unknown as ChangeSet);
  ledger.settle();
  return ledger.untrue.map(({ line }) => line.split(' ')[1] ?? '');
}

const closed = madeUp([opened, { type: 'closed', outcome: 'no-sampling' }]).of;
const answered = (value: Json): Case =>
  madeUp([opened, { type: 'answered', field: 'referral-seen', item: null, value }]).of;

describe('texts that claim something are held against the record', () => {
  it('`noted and closed` of a case that is open is a falsehood, of a closed one none', () => {
    const said = [message('w', text('decision.noted', { tag: 'AK' }))];
    expect(untrue(said)).toEqual(['decision.noted']);
    expect(untrue(said, { of: closed })).toEqual([]);
  });

  it('that nothing waits is a falsehood to whoever carries an open case, and to a doctor who is asked', () => {
    expect(untrue([message('w', text('common.nothing-open'), null)])).toEqual(['common.nothing-open']);
    expect(untrue([message('w', text('common.nothing-open'), null)], { of: closed })).toEqual([]);
    expect(untrue([message('d', text('common.nothing-open'), null)], { of: closed, questions: [{}] })).toHaveLength(1);
  });

  it('a doctor is asked only where a question is open', () => {
    const said = [message('w', text('decision.asked', { tag: 'AK', doctorAsked: 'd' }))];
    expect(untrue(said)).toEqual(['decision.asked']);
    expect(untrue(said, { questions: [{}] })).toEqual([]);
  });

  it('`not seen` and `the doctor has been told` want both an answer that says so and a text to a doctor', () => {
    const said = message('w', text('referral.not-seen', { tag: 'AK', doctorAsked: 'd' }));
    const toDoctor = message('d', 'AK: anything');
    expect(untrue([said, toDoctor], { of: answered('unknown') })).toEqual(['referral.not-seen']);
    expect(untrue([said], { of: answered('not-seen') })).toEqual(['referral.not-seen']);
    expect(untrue([said, toDoctor], { of: answered('not-seen') })).toEqual([]);
  });

  it('`a doctor is asked` about a result is a falsehood once the doctor has answered', () => {
    const { of } = madeUp([opened, codeIssued()]);
    const item = of.specimens[0]!.id;
    const open: Partial<Question> = { about: 'thy5', item, promiseUntil: null };
    const over = { ...open, answeredAt: from };
    const said = (key: TextKey) =>
      text('action.refer', { tag: 'AK', code: '1234 5678', doctorIs: text(key) }).split('\n');
    const judged = (key: TextKey, question: Partial<Question>) =>
      untrue([message('w', said(key).at(-1)!)], { of, questions: [question] });
    expect(judged('common.doctor-asked', open)).toEqual([]);
    expect(judged('common.doctor-asked', over)).toEqual(['action.refer']);
    expect(judged('common.doctor-has-it', { ...open, promiseUntil: from })).toEqual([]);
    expect(judged('common.doctor-has-it', open)).toEqual(['action.refer']);
    expect(judged('common.doctor-answered', over)).toEqual([]);
    expect(judged('common.doctor-answered', open)).toEqual(['action.refer']);
  });

  it('whoever is named as reached was sent something', () => {
    const said = message('w', text('sos.reached', { lead: 'AK: ', reached: 'd', voice: '+1' }));
    expect(untrue([said])).toEqual(['sos.reached']);
    expect(untrue([said, message('d', 'SOS AK')])).toEqual([]);
  });

  it('a claim is found behind another text of the same message, with what stands at its placeholders', () => {
    const joined = `AK: noted.\n${text('sos.reached', { lead: 'AK: ', reached: 'd', voice: '+1' })}`;
    expect(saidIn(joined, 'sos.reached')).toMatchObject({ reached: 'd', lead: 'AK: ' });
    expect(saidIn('AK: look now', 'sos.reached')).toBeNull();
  });

  it('the table holds at least a hundred texts, each of them one that the line has', () => {
    const keys = claims.flatMap((one) => one.keys);
    expect(new Set(keys).size).toBeGreaterThanOrEqual(100);
    expect(keys.filter((key) => !shipped.texts.has(key))).toEqual([]);
  });
});
