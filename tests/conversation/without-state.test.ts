import { describe, expect, it } from 'vitest';
import { loadContent } from '../../src/content/load.ts';
import type { DueWhat, LineEvent } from '../../src/conversation/event.ts';
import { type Bare, quietKeys } from '../../src/conversation/plight.ts';
import { withoutState } from '../../src/conversation/without-state.ts';
import type { TextKey } from '../../src/generated/text-keys.ts';
import { morning, person } from '../support/world.ts';

const { programme, texts } = loadContent();
const roster = [person('w', 'worker'), person('d', 'doctor'), person('c', 'coordinator')];
const nobody: Bare = { person: null, clinic: null, alarm: false, parked: 0 };
const joined = (id: string, state: 'joined' | 'stopped' | 'suspended' = 'joined') => ({
  id,
  siteId: 'oruma',
  locale: 'en',
  state,
});

const base = { id: 'e1', programmeId: programme.id, keys: ['e1'], at: morning, seed: new Uint8Array(16) };
const phone = (id: string) => roster.find((one) => one.id === id)?.addresses[0] ?? { channel: 'sms', address: id };
const text = (from: string, words: string): LineEvent => ({
  ...base,
  kind: 'text',
  from: phone(from),
  text: words,
  networkAt: null,
});
const due = (personId: string | null, what: DueWhat): LineEvent => ({
  ...base,
  kind: 'due',
  due: { id: 'e1', programmeId: programme.id, personId, caseId: null, name: 'x', frameId: null, dueAt: morning, what },
});
const of = (event: LineEvent, bare: Partial<Bare> = {}, taken: readonly string[] = [], people = roster) =>
  withoutState({
    programme,
    texts,
    roster: people,
    event,
    bare: { ...nobody, ...bare },
    taken: new Set(taken),
  });
/** Receiver and first words of each text. */
const said = (made: ReturnType<typeof withoutState>) =>
  made.says.map(
    (one) => `${roster.find((each) => each.addresses[0]!.address === one.to.address)?.id ?? '?'} ${one.text}`,
  );

describe('a text that cannot be handled', () => {
  it('an SOS gets first aid in the first lane, and every responder hears whom to phone', () => {
    const made = of(text('w', 'sos she faints'), { person: joined('w') });
    expect(said(made)).toEqual([
      expect.stringMatching(/^w If a needle is in the neck, take it out\. BLEEDING or SWELLING/),
      expect.stringMatching(/^w FAINT: lay the patient flat, .* Call bench:voice$/),
      expect.stringMatching(/^w Do not wait for a text: call bench:voice or go to Tamboro Hospital NOW/),
      expect.stringMatching(/^w I sent your SOS to d\./),
      expect.stringMatching(new RegExp(`^d SOS from w, .*phone \\${phone('w').address} NOW`)),
      expect.stringMatching(new RegExp(`^c SOS from w, .*phone \\${phone('w').address} NOW`)),
      expect.stringMatching(/^c I could not handle a text of w\. 1 wait/),
      expect.stringMatching(/^c .*For the operator: command parked$/),
    ]);
    expect(made.says.slice(0, 6).map((one) => [one.lane, one.safety])).toEqual(Array(6).fill(['sos', true]));
    expect(of(text('w', 'sos she faints'), { person: joined('w') })).toEqual(made);
  });

  it('names nobody as told where no doctor and no coordinator can be reached', () => {
    const made = of(text('w', 'SOS'), { person: joined('w') }, [], [person('w', 'worker')]);
    expect(said(made).join('\n')).toMatch(
      /w I could reach nobody for you, not even a doctor\. Do not wait: call bench:voice/,
    );
    expect(said(made).join('\n')).not.toMatch(/I sent your SOS/);
    expect(of(text('w', 'SOS'), { person: joined('w') }, [], []).says[0]!.text).toMatch(/SWELLING/);
  });

  it('from somebody who sent STOP an SOS reaches the doctors; from a number off the line the coordinators alone', () => {
    expect(said(of(text('w', 'SOS'), { person: joined('w', 'stopped') })).some((one) => one.startsWith('d '))).toBe(
      true,
    );
    const off = said(of(text('w', 'SOS'), { person: joined('w', 'suspended') }));
    expect(off.filter((one) => one.startsWith('d '))).toEqual([]);
    expect(off.filter((one) => /^c SOS from w/.test(one))).toHaveLength(1);
    expect(said(of(text('+000555019999', 'SOS')))[0]).toMatch(
      /^\? If a needle is in the neck, take it out\. BLEEDING or SWELLING/,
    );
  });

  it('any other gets one answer in some minutes, an alarm always', () => {
    const event = text('w', 'LIST');
    const first = of(event, { person: joined('w') });
    expect(said(first)).toEqual([
      expect.stringMatching(/^w I could not handle your text\. A person will look at it/),
      expect.stringMatching(/^c I could not handle a text of w/),
      expect.stringMatching(/^c .*For the operator: command parked$/),
    ]);
    const again = of(event, { person: joined('w') }, first.onceKeys);
    expect(again.says).toEqual([]);
    expect(again.due.map((one) => one.what)).toEqual([{ kind: 'trouble', key: 'parked-more', vars: {} }]);
    const alarm = of(text('w', 'SOS'), { person: joined('w') }, quietKeys(event));
    expect(said(alarm)).toEqual([
      expect.stringMatching(/^w If a needle is in the neck, take it out\. BLEEDING or SWELLING/),
      expect.stringMatching(/^w FAINT: lay the patient flat/),
      expect.stringMatching(/^w Do not wait for a text: call bench:voice/),
      expect.stringMatching(/^w I sent your SOS/),
    ]);
  });

  it.each(['d', 'c'])('STOP of %s, the last one who could help, is not obeyed without digits to prove it', (id) => {
    const made = of(text(id, 'STOP'), { person: joined(id) });
    expect(made.people).toEqual([]);
    expect(said(made)).toEqual([expect.stringMatching(/^. You are the last (doctor|coordinator) whom I can reach/)]);
    const two = [...roster, person('dd', 'doctor'), person('cc', 'coordinator')];
    expect(of(text(id, 'STOP'), { person: joined(id) }, [], two).people).toEqual([{ kind: 'leave', personId: id }]);
  });

  it('STOP is obeyed, by open columns alone', () => {
    const made = of(text('w', ' Stop. '), { person: joined('w') });
    expect(made.people).toEqual([{ kind: 'leave', personId: 'w' }]);
    expect(said(made)).toEqual([expect.stringMatching(/^w STOPPED/), expect.stringMatching(/^c w sent STOP/)]);
    expect(of(text('w', 'stop'), { person: joined('w', 'stopped') }).says).toEqual([]);
    expect(of(text('w', 'stop the bleeding'), { person: joined('w') }).people).toEqual([]);
  });

  it('a machine without a place on the line is not answered', () => {
    expect(of(text('INFO', 'SOS win now')).says).toEqual([]);
    expect(of(text('4040', 'LIST')).says).toEqual([]);
  });

  it('a text to anybody fits one screen', () => {
    const long = roster.map((one) => ({ ...one, name: `${one.id} Tessaline Oller` }));
    for (const words of ['SOS', 'LIST', 'stop']) {
      for (const one of of(text('w', words), { person: joined('w') }, [], long).says) {
        expect(one.text.length, one.text).toBeLessThanOrEqual(160);
      }
    }
  });
});

describe('something due that cannot be handled', () => {
  const clinic = { personId: 'w', siteId: 'oruma' };
  const tell = (lane: 'sos' | 'notice', key: TextKey = 'sos.worse-for-doctor'): DueWhat => ({
    kind: 'tell',
    key,
    caseId: null,
    item: null,
    vars: {},
    lane,
  });

  it('an alarm for a doctor is written straight to that doctor, with the number to phone', () => {
    const made = of(due('d', tell('sos')), { person: joined('d'), clinic });
    expect(said(made)).toEqual([
      expect.stringMatching(new RegExp(`^d The SOS is open: w, .*Phone \\${phone('w').address} NOW`)),
      expect.stringMatching(/^c I could not do what was due for d/),
      expect.stringMatching(/^c .*For the operator: command parked$/),
    ]);
  });

  it.each([
    ['a timer', { kind: 'timer', frameId: 'f', entry: 1, name: 'silent', late: 'fire' }],
    ['a text', tell('sos', 'common.ladder-spent-now')],
  ] as const)('%s of an alarm reaches the clinic, and whoever can help', (_what, what) => {
    const made = said(of(due('w', what), { person: joined('w'), clinic, alarm: true }));
    expect(made.filter((one) => /^w Is your patient still in trouble\?/.test(one))).toHaveLength(1);
    for (const id of ['d', 'c'])
      expect(made.filter((one) => one.startsWith(`${id} The SOS is open: w`))).toHaveLength(1);
  });

  it('a doctor’s answer in an alarm reaches the clinic in the doctor’s words', () => {
    const what = {
      kind: 'answered',
      questionId: 'q',
      caseId: null,
      answer: 'words',
      words: 'press "hard"',
      by: 'd',
    } as const;
    const made = said(of(due('w', what), { person: joined('w'), clinic, alarm: true }));
    expect(made).toContainEqual(expect.stringMatching(/^w d answers about your patient: "press/));
  });

  it('a question that cannot climb goes to everybody who can help', () => {
    const made = said(of(due(null, { kind: 'climb', questionId: 'q', rung: 1 }), { clinic, alarm: true }));
    for (const id of ['d', 'c'])
      expect(made.filter((one) => one.startsWith(`${id} The SOS is open: w`))).toHaveLength(1);
  });

  it('anything else tells the coordinators, once in a while, and what tells of faults never tells of itself', () => {
    expect(said(of(due('d', tell('notice')), { person: joined('d') }))).toEqual([
      expect.stringMatching(/^c I could not do what was due for d/),
      expect.stringMatching(/^c .*For the operator: command parked$/),
    ]);
    const itself = of(due('c', tell('notice', 'trouble.parked-more')), { person: joined('c') });
    expect([itself.says, itself.due]).toEqual([[], []]);
    const trouble = of(due(null, { kind: 'trouble', key: 'parked-more', vars: {} }));
    expect([trouble.says, trouble.due]).toEqual([[], []]);
  });
});
