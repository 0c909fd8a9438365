import { describe, expect, it } from 'vitest';
import { loadSoundContent } from '../../src/content/check-content.ts';
import { loadContent } from '../../src/content/load.ts';
import { packageWith, problemsOf, spoilt, watchFlow, watchRegistry } from './package-fixture.ts';

/** What is spoilt, and the start of the problem line that must come. */
const faults: readonly (readonly [string, string, string, string])[] = [
  [
    'a misspelt key',
    '    say: press-words',
    '    sey: press-words',
    'flows/watch.yaml:7  states.press.sey  unknown key sey  did you mean say?',
  ],
  [
    'a key that stands twice',
    'initial: press',
    'initial: press\ninitial: press',
    'flows/watch.yaml:3  -  this key stands twice  keep one of them',
  ],
  [
    'an anchor',
    '    timers: { over: { after: spray-dry } }',
    '    timers: &t { over: { after: spray-dry } }',
    'flows/watch.yaml:8  -  anchors and aliases are not used  write it out',
  ],
  ['a tag', 'initial: press', 'initial: !!str press', 'flows/watch.yaml:2  -  tags are not used'],
  [
    'a digit without quotes',
    "refer: '1'",
    'refer: 1',
    'flows/watch.yaml:20  states.neck.transitions.changed.question.options.0.1  should be a string  write a word, in quotes',
  ],
  [
    'an id that other YAML takes for a boolean is a word here, and has no label',
    'options: [well, changed, unknown]',
    'options: [well, changed, no]',
    'flows/watch.yaml:15  states.neck.ask.options  no has no label in en',
  ],
  [
    'an unknown kind of answer',
    'kind: choice',
    'kind: chioce',
    'flows/watch.yaml:15  states.neck.ask.kind  is not one of the known values  use one of: choice, choices',
  ],
  [
    'a first state that is not there',
    'initial: press',
    'initial: pres',
    'flows/watch.yaml:2  initial  there is no state pres  did you mean press?',
  ],
  [
    'a target that is not there',
    'well: done',
    'well: doen',
    'flows/watch.yaml:19  states.neck.transitions.well.target  there is no state doen  did you mean done?',
  ],
  [
    'a state that nothing leads to',
    'unknown: again',
    'unknown: press',
    'flows/watch.yaml:27  states.again  is never reached',
  ],
  [
    'an outcome that is not treated',
    'short: neck, long: neck',
    'short: neck',
    'flows/watch.yaml:13  states.length.transitions  the outcome long of watch-length is not treated  add long:',
  ],
  [
    'an outcome that the decision does not have',
    'short: neck, long: neck',
    'short: neck, long: neck, longer: neck',
    'flows/watch.yaml:13  states.length.transitions.longer  longer can never happen here  did you mean long?',
  ],
  [
    'a decision that does not exist',
    'decide: watch-length',
    'decide: watch-lenght',
    'flows/watch.yaml:12  states.length.decide  there is no decision watch-lenght  did you mean watch-length?',
  ],
  [
    'a duration that the programme does not have',
    'after: neck-answer',
    'after: neck-anser',
    'flows/watch.yaml:17  states.neck.timers.silent.after  the programme has no duration neck-anser  did you mean neck-answer?',
  ],
  [
    'a timer that nothing waits for',
    '      timer.over: length',
    '      next: length',
    'flows/watch.yaml:8  states.press.timers.over  nothing happens when this timer is due  add timer.over:',
  ],
  [
    'timers in a state that goes on at once',
    '      timer.over: length',
    '      next: length\n      timer.over: length',
    'flows/watch.yaml:8  states.press.timers  the state goes on at once, so its timers never run',
  ],
  [
    'a timer with neither duration nor instant',
    'silent: { after: neck-answer }',
    'silent: { late: skip }',
    'flows/watch.yaml:17  states.neck.timers.silent  has no one moment  give either after',
  ],
  [
    'a timer transition without its timer',
    'timer.silent: {',
    'timer.silence: {',
    'flows/watch.yaml:22  states.neck.transitions.timer.silence  timer.silence can never happen here  did you mean timer.silent?',
  ],
  [
    'an option that leads nowhere',
    '      unknown: again\n',
    '',
    'flows/watch.yaml:18  states.neck.transitions  not treated: unknown  add a transition for each, or answered:',
  ],
  [
    'a transition for an option that is not asked',
    'unknown: again',
    'unknwon: again',
    'flows/watch.yaml:21  states.neck.transitions.unknwon  unknwon can never happen here  did you mean unknown?',
  ],
  [
    "a doctor's answer that was never offered",
    'neck-changed.refer: done',
    'neck-changed.reefer: done',
    'flows/watch.yaml:25  states.wait.transitions.neck-changed.reefer  neck-changed.reefer can never happen here  did you mean neck-changed.refer?',
  ],
  [
    'an event that nothing sends',
    'result.filed:',
    'result.field:',
    'flows/watch.yaml:4  anywhere.result.field  can never happen  did you mean result.filed?',
  ],
  [
    'an urgency that the programme does not have',
    'question: { urgency: now, about: neck-changed, options: [refer]',
    'question: { urgency: soon, about: neck-changed, options: [refer]',
    'flows/watch.yaml:22  states.neck.transitions.timer.silent.question.urgency  the programme has no urgency soon',
  ],
  [
    'a flow that does not exist',
    'well: done',
    'well: { run: sos, target: done }',
    'flows/watch.yaml:19  states.neck.transitions.well.run  there is no flow sos',
  ],
  [
    'a recorder that does not exist',
    'well: done',
    'well: { record: aftercare-don, target: done }',
    'flows/watch.yaml:19  states.neck.transitions.well.record  there is no recorder aftercare-don  did you mean aftercare-done?',
  ],
  [
    'a number without a reader',
    'kind: choice, options: [well, changed, unknown]',
    'kind: number',
    'flows/watch.yaml:15  states.neck.ask  a number cannot be read without a reader',
  ],
  [
    'two options with one digit',
    'options: [well, changed, unknown]',
    "options: { well: '1', changed: '1', unknown: '9' }",
    'flows/watch.yaml:15  states.neck.ask.options  two options share the reply 1',
  ],
  [
    'cannot tell on another digit than 9',
    'options: [well, changed, unknown]',
    "options: { well: '1', changed: '9', unknown: '2' }",
    'flows/watch.yaml:15  states.neck.ask.options  changed has the reply 9, which means cannot tell',
  ],
  [
    'more options than digits',
    'options: [well, changed, unknown]',
    'options: [well, changed, unknown, a, b, c, d, e, f, g]',
    'flows/watch.yaml:15  states.neck.ask.options  more options than the digits 1 to 8  split the question',
  ],
  [
    'a final state that goes on',
    'done: { final: true }',
    'done: { final: true, transitions: { next: press } }',
    'flows/watch.yaml:30  states.done.transitions  a final state goes nowhere',
  ],
  [
    'a file called otherwise than its flow',
    'flow: watch',
    'flow: wacht',
    'flows/watch.yaml:1  flow  the flow is called wacht and its file watch',
  ],
];

describe('a flow is refused with the line and a hint', () => {
  it('accepts the sound flow, so each case below shows its own fault only', () => {
    expect(problemsOf()).toEqual([]);
  });

  it.each(faults)('%s', (_title, piece, by, expected) => {
    const lines = problemsOf({ 'flows/watch.yaml': spoilt(watchFlow, piece, by) });
    expect(lines.filter((line) => line.startsWith(expected))).toHaveLength(1);
  });

  it('names no problem of its own for what only hangs on a broken file', () => {
    const caller = 'flow: caller\ninitial: a\nstates:\n  a: { transitions: { next: { flow: watch } } }\n';
    const broken = spoilt(watchFlow, 'kind: choice', 'kind: chioce');
    const lines = problemsOf({ 'flows/watch.yaml': broken, 'flows/caller.yaml': caller });
    expect(lines.filter((line) => line.startsWith('flows/caller.yaml'))).toEqual([]);
  });

  it('leaves names alone whose code does not exist yet', () => {
    const flow = spoilt(watchFlow, 'decide: watch-length', 'decide: not-written-yet');
    expect(problemsOf({ 'flows/watch.yaml': flow }, {})).toEqual([]);
  });

  it('gives a start the content or the problems, never both', () => {
    const sound = loadSoundContent(watchRegistry, packageWith());
    expect(sound.ok && sound.content.flows.newest.has('watch')).toBe(true);
    const faulty = loadSoundContent(watchRegistry, packageWith({ 'flows/watch.yaml': 'flow: watch\n' }));
    expect(faulty.ok ? [] : faulty.problems.map((one) => one.path)).toEqual(
      expect.arrayContaining(['initial', 'states']),
    );
  });
});

describe('the ways through a flow', () => {
  const flowOf = (states: string) => `flow: watch\ninitial: a\nstates:\n${states}`;
  const waysOf = (states: string) =>
    problemsOf({ 'flows/watch.yaml': flowOf(states) }, {}).filter((line) => line.startsWith('flows/'));

  it('refuses a state that nobody can leave', () => {
    expect(waysOf('  a: { timers: { t: { after: spray-dry } }, transitions: { timer.t: a } }\n')).toEqual([
      'flows/watch.yaml:4  states.a  nobody can leave this state  add a transition to another state, or final: true',
    ]);
  });

  it('refuses states that lead round in a circle without an end', () => {
    const lines = waysOf(
      '  a: { timers: { t: { after: spray-dry } }, transitions: { timer.t: b } }\n  b: { timers: { t: { after: spray-dry } }, transitions: { timer.t: a } }\n',
    );
    expect(lines.map((line) => line.split('  ')[2])).toEqual([
      'from here the flow never ends',
      'from here the flow never ends',
    ]);
  });

  it('refuses deciding states that lead into each other without a pause', () => {
    const lines = waysOf(
      '  a: { decide: x, transitions: { one: b, two: c } }\n  b: { transitions: { next: a } }\n  c: { final: true }\n',
    );
    expect(lines).toEqual(
      ['a', 'b'].map(
        (name, index) =>
          `flows/watch.yaml:${4 + index}  states.${name}  is part of an endless chain of states that go on by themselves  ask or wait`,
      ),
    );
  });

  it('refuses a deciding state whose outcome leads nowhere', () => {
    const lines = waysOf('  a: { decide: x, transitions: { one: b, two: { record: r } } }\n  b: { final: true }\n');
    expect(lines).toEqual([
      'flows/watch.yaml:4  states.a.transitions.two  goes nowhere, and nothing else happens here  give a target',
    ]);
  });

  it("refuses to wait for a doctor's answer without treating silence or the answer", () => {
    const question = 'question: { urgency: now, about: neck-changed, options: [refer] }';
    const waiting = (transition: string) =>
      waysOf(`  a:\n    ${question}\n    transitions: { ${transition}: b }\n  b: { final: true }\n`);
    expect(waiting('result.filed')).toEqual([
      'flows/watch.yaml:5  states.a.question  waits for a doctor and treats neither answer nor silence  add a timer, or answer.refer:',
    ]);
    expect(waiting('unanswered')).toEqual([]);
    expect(waiting('neck-changed.refer')).toEqual([]);
    expect(waiting('answer.refer')).toEqual([]);
    expect(waiting('answer')).toEqual([]);
    expect(waiting('answer.rfeer')[0]).toContain('answer.rfeer can never happen here  did you mean answer.refer?');
  });

  it('refuses two critical questions in a row that share a digit, unless one is numbered', () => {
    const critical = (numbered: string) =>
      waysOf(
        `  a: { noBack: true, text: neck, ask: { field: neck, kind: choice, options: [well, changed, unknown]${numbered} }, transitions: { answered: m } }\n` +
          '  m: { transitions: { next: b } }\n' +
          '  b: { traits: { doubled: asked }, noBack: true, text: neck, ask: { field: neck, kind: choice, options: [well, changed, unknown] }, transitions: { answered: c } }\n' +
          '  c: { final: true }\n',
      );
    expect(critical('')).toEqual([
      'flows/watch.yaml:6  states.b.ask  shares the reply 1, 2, 9 with a just before it  add numbered, or other replies',
    ]);
    expect(critical(', numbered: attempt')).toEqual([]);
  });
});

describe('a sound flow', () => {
  const flow = () => loadContent(packageWith()).flows.newest.get('watch')!;

  it('gives none 0, cannot tell 9 and the others 1, 2, 3 in order', () => {
    expect(flow().states.get('neck')!.ask!.options).toEqual([
      { id: 'well', reply: '1', secret: false },
      { id: 'changed', reply: '2', secret: false },
      { id: 'unknown', reply: '9', secret: false },
    ]);
  });

  it("reads a doctor's choice that only adds care", () => {
    expect(flow().states.get('neck')!.transitions.get('changed')!.question!.options).toEqual([
      { id: 'refer', reply: '1', care: false },
      { id: 'call-me', reply: '2', care: true },
    ]);
  });

  it('names texts by file and key', () => {
    expect(flow().states.get('again')!.say).toEqual(['watch.press-words', 'doctor.hint']);
    expect(flow().states.get('neck')!.text).toBe('watch.neck');
  });

  it('opens shorthand: a lone word is a target or a list of one', () => {
    const press = flow().states.get('press')!;
    expect(press.transitions.get('timer.over')).toMatchObject({ target: 'length', say: [], run: null });
    expect(press.line).toBe(6);
  });
});
