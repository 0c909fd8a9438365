import { expect, it } from 'vitest';
import { askedOnce } from './asked-once.ts';
import { answer, asks, codeIssued, madeUp, opened } from './made-up.ts';

const tsh = { kind: 'said', flow: 'new', step: 'tsh', text: 'TSH?', ask: asks('tsh', ['normal', 'low']) } as const;
const reply = { kind: 'sent', text: '1', ids: ['normal'], ask: tsh.ask } as const;

it('a question that comes again although nothing was found anew is a breach', () => {
  expect(askedOnce.broken(madeUp([opened, tsh, reply, tsh]))).toEqual(['new.tsh again: "TSH?"']);
});

it('one that comes again after a slip, a new finding or another day is none', () => {
  expect(askedOnce.broken(madeUp([opened, tsh, { ...reply, slip: 'unreadable' }, tsh]))).toEqual([]);
  expect(askedOnce.broken(madeUp([opened, tsh, reply, answer('tsh', 'normal'), tsh]))).toEqual([]);
  expect(askedOnce.broken(madeUp([opened, tsh, reply, 24, tsh]))).toEqual([]);
});

it.each(['target', 'node', 'ready', 'sampling', 'labelling', 'aftercare'])(
  'so it is at the bedside, in %s, whatever the answer itself brought',
  (flow) => {
    const pulse = { ...tsh, flow, step: 'pulse', text: 'Does it beat?' } as const;
    const said = { kind: 'said', flow: 'node', step: 'plan', text: 'Now.' } as const;
    expect(askedOnce.broken(madeUp([opened, pulse, reply, pulse]))).toEqual([`${flow}.pulse again: "Does it beat?"`]);
    const walked = madeUp([opened, pulse, reply, { ...said, flow: 'review' }, pulse]);
    const [sent] = walked.entries.filter(({ kind }) => kind === 'sent');
    expect(askedOnce.broken(walked)).toEqual([]);
    const entries = walked.entries.map((one) =>
      'flow' in one && one.flow === 'review' ? { ...one, at: sent!.at } : one,
    );
    expect(askedOnce.broken({ ...walked, entries })).toHaveLength(1);
  },
);

it('a danger sign that is asked again because a step was done is a breach, the step is none', () => {
  const done = { ...reply, ids: ['done'] } as const;
  const story = { ...tsh, step: 'story', text: 'Voice?' } as const;
  expect(askedOnce.broken(madeUp([opened, story, done, story]))).toHaveLength(1);
  expect(askedOnce.broken(madeUp([opened, tsh, done, tsh]))).toEqual([]);
});

it('another needle, and a check that was not done yet, are asked again', () => {
  const needle = { type: 'attempted', specimen: 's1', attempt: 1, outcome: 'blood' } as const;
  const report = { ...tsh, flow: 'sampling', step: 'report' } as const;
  expect(askedOnce.broken(madeUp([opened, codeIssued(), report, reply, needle, report]))).toEqual([]);
  const told = { ...tsh, flow: 'aftercare', step: 'told' } as const;
  expect(askedOnce.broken(madeUp([opened, told, { ...reply, ids: ['not-yet'] }, told]))).toEqual([]);
  const checks = { ...tsh, flow: 'ready', step: 'missing', ask: asks('checks', ['all', 'clean']) } as const;
  const said = (id: string) => ({ ...reply, ids: [id], ask: checks.ask }) as const;
  expect(askedOnce.broken(madeUp([opened, checks, said('clean'), checks]))).toEqual([]);
  expect(askedOnce.broken(madeUp([opened, checks, said('all'), checks]))).toHaveLength(1);
});

it('one that comes again because a text was not taken, of several patients or before practice, is none', () => {
  const said = { kind: 'said', flow: 'common', text: 'First comes the practice question.' } as const;
  for (const step of ['common.of-whom', 'common.not-practised'])
    expect(askedOnce.broken(madeUp([opened, tsh, reply, { ...said, step }, tsh]))).toEqual([]);
  const walked = madeUp([opened, tsh, reply, { ...said, step: 'common.noted-next' }, tsh]);
  const [sent] = walked.entries.filter(({ kind }) => kind === 'sent');
  const entries = walked.entries.map((one) =>
    'flow' in one && one.flow === 'common' ? { ...one, at: sent!.at } : one,
  );
  expect(askedOnce.broken({ ...walked, entries })).toHaveLength(1);
});
