import { describe, expect, it } from 'vitest';
import { loadContent } from '../../src/content/load.ts';
import { hearAlarm } from '../../src/conversation/hear-alarm.ts';
import { alarmIn } from '../../src/conversation/hearing/alarm-in.ts';
import { cryIn } from '../../src/conversation/hearing/cry.ts';
import { Interpreter } from '../../src/conversation/interpret.ts';
import { registry } from '../../src/conversation/matters.ts';
import { freshState } from '../../src/conversation/state.ts';
import { Turn } from '../../src/conversation/turn.ts';
import { nothingLost, type World } from '../../src/conversation/world.ts';
import { morning, person } from '../support/world.ts';

const content = loadContent();
const { texts } = content;
const english = texts.alarmWords('en');

/** Every answer that a flow offers in words: labels as they are shown, further words, digits. */
const answers = [...content.flows.newest.values()].flatMap((flow) =>
  [...flow.states.values()].flatMap((state) =>
    (state.ask?.options ?? []).flatMap((option) =>
      [
        ...texts.words('en', state.ask!.field, option.id),
        texts.label('en', state.ask!.field, option.id),
        option.reply,
      ].map((text) => ({ question: `${flow.name}.${state.name}`, text })),
    ),
  ),
);

/** What a worker with a needle in hears of an alarm when this text comes. */
function heard(text: string, elsewhere: boolean): string {
  const worker = person('w', 'worker');
  const world = {
    ...content,
    roster: [worker],
    person: worker,
    conversation: { ...freshState, patientUntil: morning + 1 },
    ...{ cases: [], briefs: [], questions: [], tagsInUse: [], invitation: null, handedAt: {}, reportedAt: {} },
    ...{
      strangersToday: 0,
      firstAidGiven: false,
      stocks: [],
      overview: null,
      doings: [],
      restoredAt: null,
      trial: false,
      codesIssued: 0,
    },
    ...{ quotedToken: null, lost: nothingLost },
  } as World;
  const from = worker.addresses[0]!;
  const seed = new Uint8Array(16);
  const event = {
    id: 'e',
    programmeId: 'p',
    keys: [],
    at: morning,
    seed,
    kind: 'text',
    from,
    text,
    networkAt: null,
  } as const;
  const turn = new Turn(world, event, registry);
  return hearAlarm(turn, new Interpreter(turn, worker), text, elsewhere);
}

describe('an ordinary answer', () => {
  it('to any question that is asked, in any of its words, raises nothing there', () => {
    expect(answers.length).toBeGreaterThan(500);
    const raised = answers.filter(({ text }) => heard(text, true) !== 'none');
    expect(raised).toEqual([]);
  });

  it('hardly ever sounds like a cry anywhere else: these are signs of danger by themselves', () => {
    const cries = [...new Set(answers.map((one) => one.text).filter((text) => cryIn(text, english) !== null))];
    expect(cries.sort()).toMatchInlineSnapshot(`
      [
        "bleeding",
        "bleeding, swelling",
        "bleeding-or-swelling",
        "breathless",
        "breathless-lying",
        "faint",
        "faint, slow pulse",
        "fainted",
        "hard breathing",
        "noisy breathing",
        "patient unwell",
        "short of breath",
        "short of breath at rest",
        "short of breath lying down",
        "slow pulse",
        "stridor",
        "swelling",
        "unwell",
      ]
    `);
  });

  it('in digits is no alarm, whatever was asked', () => {
    for (let number = 0; number < 10_000; number += 1) expect(alarmIn(String(number), english)).toBeNull();
  });

  it('is told from a cry by what was asked: the same words are heard where nothing offers them', () => {
    expect(heard('hard breathing', true)).toBe('none');
    expect(heard('hard breathing', false)).toBe('dealt-with');
    expect(heard('faint', false)).toBe('first-aid');
    expect(heard('SOS', true)).toBe('dealt-with');
  });
});
