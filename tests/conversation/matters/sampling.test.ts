import { describe, expect, it } from 'vitest';
import type { CaseEvent } from '../../../src/case/events.ts';
import type { SlideState } from '../../../src/clinical/fixation.ts';
import type { FluidLook } from '../../../src/clinical/fluid.ts';
import type { AttemptOutcome } from '../../../src/clinical/sampling.ts';
import { aftercare, watchOf } from '../../../src/conversation/matters/aftercare.ts';
import { fluid } from '../../../src/conversation/matters/fluid.ts';
import { posting } from '../../../src/conversation/matters/posting.ts';
import { ready } from '../../../src/conversation/matters/ready.ts';
import { sampling } from '../../../src/conversation/matters/sampling.ts';
import { coded, decidedCase, momentOf, said, start, wellSupplied } from './moment-of.ts';

const attempts = (specimen: string, ...outcomes: readonly AttemptOutcome[]): readonly CaseEvent[] =>
  outcomes.map((outcome, index) => ({ type: 'attempted', specimen, attempt: index + 1, outcome }));

const fixed = (...slides: readonly SlideState[]): CaseEvent => ({
  type: 'slides-fixed',
  specimen: 's1',
  fixative: 'alcohol',
  slides,
});

const optionsFrom = (number: number | string) =>
  ['material', 'blood', 'too-little', 'unwell', 'fluid', 'not-done'].map((id, index) => ({
    id,
    reply: `${number}${index + 1}`,
  }));

describe('after an attempt', () => {
  it.each<[AttemptOutcome[], string]>([
    [['material'], 'material'],
    [['blood'], 'blood'],
    [['too-little'], 'too-little'],
    [['unwell'], 'unwell'],
    [['fluid'], 'fluid-unasked'],
    [['blood', 'material'], 'material'],
    [['blood', 'blood'], 'limit'],
    [['blood', 'blood', 'blood', 'blood'], 'limit'],
    [['blood', 'blood', 'blood', 'blood', 'blood'], 'limit-most'],
    [['blood', 'blood', 'blood', 'blood', 'material'], 'material'],
  ])('%j with four slides and two needles: %s', (outcomes, next) => {
    const moment = momentOf([...decidedCase(), wellSupplied, ...coded(), ...attempts('s1', ...outcomes)]);
    expect(sampling.decisions!['after-attempt']!.decide(moment)).toBe(next);
  });

  it('two slides are one attempt: the doctor is asked at once', () => {
    const moment = momentOf([...decidedCase(), wellSupplied, ...coded('s1', 'n1', 2), ...attempts('s1', 'blood')]);
    expect(sampling.decisions!['after-attempt']!.decide(moment)).toBe('limit');
  });
});

describe('the report of attempts', () => {
  const read = (text: string, made: readonly AttemptOutcome[] = []) =>
    sampling.readers!.attempts!(
      text,
      momentOf([...decidedCase(), wellSupplied, ...coded(), ...attempts('s1', ...made)], {
        field: 'attempt',
        options: optionsFrom(made.length + 1),
      }),
    );

  it.each<[string, AttemptOutcome[], AttemptOutcome[]]>([
    ['11', [], ['material']],
    ['12 21', [], ['blood', 'material']],
    ['1221', [], ['blood', 'material']],
    ['13,24', [], ['too-little', 'unwell']],
    ['Blood', [], ['blood']],
    ['21', ['blood'], ['material']],
  ])('%s after %j is %j', (text, made, value) => {
    expect(read(text, made)).toEqual({ ok: true, value: { value, outcome: 'answered' } });
  });

  it.each<[string, AttemptOutcome[], string]>([
    ['1', [], 'not-an-option'],
    ['11', ['blood'], 'not-an-option'],
    ['21', [], 'not-an-option'],
    ['21 12', [], 'not-an-option'],
    ['11 21', [], 'not-an-option'],
    ['17', [], 'not-an-option'],
    ['16 21', [], 'not-an-option'],
    ['12 22 31', [], 'out-of-range'],
  ])('%s after %j is refused: %s', (text, made, reason) => {
    expect(read(text, made)).toEqual({ ok: false, reason });
  });

  it('no needle done is no attempt, and ends the report', () => {
    expect(read('16')).toEqual({ ok: true, value: { value: ['not-done'], outcome: 'not-done' } });
    expect(read('12 26')).toEqual({ ok: true, value: { value: ['blood', 'not-done'], outcome: 'not-done' } });
  });

  it('of two lumps in one sitting it carries the letter of the lump', () => {
    const two = [...coded('s1', 'n1', 2), ...coded('s2', 'n2', 2), ...attempts('s1', 'material')];
    const moment = momentOf([...decidedCase(['n1', 'n2']), wellSupplied, ...two], {
      item: 's2',
      field: 'attempt',
      options: optionsFrom('L1'),
    });
    const readHere = (text: string) => sampling.readers!.attempts!(text, moment);
    for (const text of ['L11', 'l 11', 'L11.'])
      expect(readHere(text)).toMatchObject({ ok: true, value: { value: ['material'] } });
    for (const text of ['11', 'R11', '21', 'L21'])
      expect(readHere(text)).toEqual({ ok: false, reason: 'not-an-option' });
  });

  describe('of two lumps, in a language that has other letters for the sides', () => {
    const two = [...coded('s1', 'n1'), ...coded('s2', 'n2')];
    /** Reads a report about the right lump, where the sides are shown by these letters and English ones are taken too. */
    const readIn = (letters: Readonly<Record<string, string>>, text: string) => {
      const options = optionsFrom(`${letters.right}1`);
      const english = momentOf([...decidedCase(['n1', 'n2']), wellSupplied, ...two], { field: 'attempt', options });
      const { texts } = english.world;
      const label: typeof texts.label = (tag, field, id) =>
        field === 'sideShort' ? (letters[id] ?? '') : texts.label(tag, field, id);
      const words: typeof texts.words = (tag, field, id) =>
        field === 'sideShort'
          ? [letters[id]!.toLowerCase(), ...texts.words(tag, field, id)]
          : texts.words(tag, field, id);
      const world = { ...english.world, texts: { ...texts, render: texts.render.bind(texts), label, words } };
      return sampling.readers!.attempts!(text, { ...english, world });
    };
    const taken = (...value: readonly AttemptOutcome[]) => ({ ok: true, value: { value, outcome: 'answered' } });

    it('the English letter is taken as well', () => {
      for (const text of ['D11', 'd 11', 'R11', 'r 11'])
        expect(readIn({ right: 'D', left: 'I' }, text)).toEqual(taken('material'));
      const several = { value: ['blood', 'not-done'], outcome: 'not-done' };
      expect(readIn({ right: 'D', left: 'I' }, 'R12 R26')).toEqual({ ok: true, value: several });
    });

    it('but not where it stands for the other lump', () => {
      expect(readIn({ right: 'D', left: 'R' }, 'R11')).toEqual({ ok: false, reason: 'not-an-option' });
      expect(readIn({ right: 'D', left: 'R' }, 'D11')).toEqual(taken('material'));
    });
  });
});

describe('the report of slides', () => {
  const options = [
    { id: 'wet-at-once', reply: '6' },
    { id: 'late', reply: '7' },
    { id: 'dried', reply: '8' },
    { id: 'none', reply: '0' },
  ];
  const read = (text: string, slides: number) =>
    sampling.readers!.slides!(
      text,
      momentOf([...decidedCase(), wellSupplied, ...coded('s1', 'n1', slides), ...attempts('s1', 'material')], {
        field: 'slides',
        options,
      }),
    );

  it('takes one digit a slide, empty ones too', () => {
    const value = ['wet-at-once', 'late', 'dried', 'empty'];
    expect(read('6780', 4)).toEqual({ ok: true, value: { value } });
    expect(read('6 7 8 0', 4)).toEqual({ ok: true, value: { value } });
  });

  it('a report of attempts sent twice is no report of slides', () => {
    for (const text of ['11', '21', '1221'])
      expect(read(text, text.length)).toEqual({ ok: false, reason: 'not-an-option' });
  });

  it('never fills up a missing slide', () => {
    expect(read('666', 4)).toEqual({ ok: false, reason: 'wrong-count' });
  });
});

describe('fluid that came by the needle', () => {
  const options = ['clear', 'yellow', 'brown', 'red', 'pus'].map((id, index) => ({ id, reply: String(index + 1) }));
  const taken = [...decidedCase(), wellSupplied, ...coded(), ...attempts('s1', 'fluid')];
  const read = (text: string) => fluid.readers!.fluid!(text, momentOf(taken, { field: 'fluid', options }));

  it.each([
    ['6 ml 3', [6, 'brown']],
    ['6ml 3', [6, 'brown']],
    ['6 3', [6, 'brown']],
    ['2,5 ml yellow', [2.5, 'yellow']],
    ['AK 12 ml clear as water', [12, 'clear']],
  ])('%s is read', (text, value) => {
    expect(read(text)).toEqual({ ok: true, value: { value } });
  });

  it.each([
    ['3', 'not-a-fluid'],
    ['6 ml', 'not-a-fluid'],
    ['63', 'not-a-fluid'],
    ['6 ml 7', 'not-a-fluid'],
    ['0 ml 3', 'out-of-range'],
    ['600 ml 3', 'out-of-range'],
  ])('%s is asked again: %s', (text, reason) => {
    expect(read(text)).toEqual({ ok: false, reason });
  });

  const kept = (look: FluidLook, more: Parameters<typeof momentOf>[1] = {}): CaseEvent => {
    const acts = fluid.recorders!.fluid!(momentOf(taken, { answer: [6, look], ...more }));
    const [act] = acts;
    if (act?.do !== 'record') throw new Error('nothing was recorded');
    return act.event;
  };

  it('is kept as the laboratory said, in its own tube where nobody has asked it, and pus in a culture pot', () => {
    expect(kept('brown')).toMatchObject({
      type: 'fluid',
      specimen: 's1',
      attempt: 1,
      ml: 6,
      look: 'brown',
      kept: 'plain',
    });
    expect(kept('brown', { siteId: 'kesu' })).toMatchObject({ kept: 'ask' });
    expect(kept('pus')).toMatchObject({ kept: 'culture' });
  });

  it.each<[FluidLook, string]>([
    ['clear', 'clear'],
    ['yellow', 'keep'],
    ['brown', 'keep'],
    ['red', 'red'],
    ['pus', 'pus'],
  ])('%s from the thyroid: %s', (look, outcome) => {
    expect(fluid.decisions!['after-fluid']!.decide(momentOf([...taken, kept(look)]))).toBe(outcome);
  });

  it('brown from a node of the neck stops and asks the doctor: a cancer can be what is left of it', () => {
    const node: CaseEvent = {
      type: 'code-issued',
      specimen: 's1',
      target: { kind: 'node', side: 'right', mm: [18], level: 'III' },
      ...{ code: '48291354', technique: 'capillary', slides: 4 },
    };
    const [, checked] = coded();
    const lateral = [...decidedCase(), wellSupplied, node, checked!, ...attempts('s1', 'fluid')];
    expect(fluid.decisions!['after-fluid']!.decide(momentOf([...lateral, kept('brown')]))).toBe('brown');
    expect(fluid.decisions!['after-fluid']!.decide(momentOf([...lateral, kept('yellow')]))).toBe('keep');
  });

  it('that the laboratory wants with alcohol: the worker is told how much', () => {
    const event: CaseEvent = {
      type: 'fluid',
      specimen: 's1',
      attempt: 1,
      ml: 6,
      look: 'yellow',
      kept: 'equal-alcohol',
    };
    expect(fluid.values!.fluidKept!.of(momentOf([...taken, event]))).toBe(
      'The laboratory wants as much 50% alcohol in the tube as there is fluid. Write name and code on it.',
    );
  });

  it('never counts as blood nor as material: the solid rest is sampled with a new needle', () => {
    const next = (...events: readonly CaseEvent[]) =>
      sampling.decisions!['after-attempt']!.decide(momentOf([...taken, ...events]));
    expect(next(kept('brown'))).toBe('fluid');
    expect(next(kept('brown'), { type: 'attempted', specimen: 's1', attempt: 2, outcome: 'material' })).toBe(
      'material',
    );
  });

  it('alone leaves no slide to report, and still goes to the laboratory', () => {
    const alone = [...taken, kept('yellow')];
    expect(sampling.decisions!['slides-how']!.decide(momentOf(alone))).toBe('none');
    const fixedNone = momentOf([...alone, fixed('empty', 'empty', 'empty', 'empty')]);
    expect(aftercare.decisions!['anything-to-post']!.decide(fixedNone)).toBe('yes');
    expect(watchOf(fixedNone)).toMatchObject({ length: 'long', because: ['cystic'] });
  });
});

describe('what the slides are worth', () => {
  it.each<[string, SlideState[], string]>([
    ['oruma', ['wet-at-once', 'wet-at-once'], 'usable'],
    ['oruma', ['wet-at-once', 'late'], 'late'],
    ['oruma', ['wet-at-once', 'dried'], 'some-dried'],
    ['oruma', ['dried', 'dried', 'empty', 'empty'], 'all-dried'],
    ['oruma', ['empty', 'empty'], 'none'],
    ['kesu', ['wet-at-once', 'dried'], 'usable'],
    ['kesu', ['dried', 'dried'], 'usable'],
    ['kesu', ['empty', 'empty'], 'none'],
  ])('for the laboratory of %s %j is %s', (siteId, slides, outcome) => {
    const moment = momentOf([...decidedCase(), wellSupplied, ...coded(), fixed(...slides)], { siteId });
    expect(sampling.decisions!['slides-usable']!.decide(moment)).toBe(outcome);
  });

  it('asks for dried slides in their own words where there is no fixative', () => {
    const supplies = said('supplies', ['syringe', 'fine-needles', 'slides-many']);
    const moment = momentOf([...decidedCase(), supplies, ...coded()], { siteId: 'kesu' });
    expect(sampling.decisions!['slides-how']!.decide(moment)).toBe('dried');
  });

  it('lets the worker try again under the limit only', () => {
    const again = (...made: AttemptOutcome[]) =>
      sampling.decisions!['may-again']!.decide(
        momentOf([...decidedCase(), wellSupplied, ...coded(), ...attempts('s1', ...made)]),
      );
    expect(again('material')).toBe('yes');
    expect(again('blood', 'blood', 'material')).toBe('no');
  });
});

describe('a needle always has a specimen', () => {
  it('without one nothing is sampled, watched, labelled or posted: back to what is needed before a needle', () => {
    const none = momentOf([...decidedCase([]), wellSupplied], { item: null });
    expect(sampling.decisions!['next-sampling']!.decide(none)).toBe('no-specimen');
    expect(aftercare.decisions!['aftercare-of']!.decide(none)).toBe('no-needle');
    expect(posting.decisions!['may-post']!.decide(none)).toBe('no-needle');
    expect(ready.decisions!['next-unchecked']!.decide(none)).toBe('no-lump');
  });

  it('a code without a needle is not watched', () => {
    const coded1 = momentOf([...decidedCase(), wellSupplied, ...coded()]);
    expect(aftercare.decisions!['aftercare-of']!.decide(coded1)).toBe('no-needle');
  });

  it('no needle done sends the codes back to be read again', () => {
    const back = momentOf([...decidedCase(), wellSupplied, ...coded(), { type: 'needle-not-done' }]);
    expect(back.case).toMatchObject({ status: 'readiness', specimens: [{ codeChecked: false }] });
  });
});

describe('a needle on another day than the questions before it', () => {
  const nextDay = start + 24 * 3_600_000;
  const two = [...decidedCase(['n1', 'n2']), wellSupplied, ...coded('s1', 'n1', 2), ...coded('s2', 'n2', 2)];
  const firstDone = [...two, ...attempts('s1', 'material'), fixed('wet-at-once', 'wet-at-once')];
  const next = (events: readonly CaseEvent[], now: number) => {
    const decided = sampling.decisions!['next-sampling']!.decide(momentOf(events, { now, item: null }));
    return typeof decided === 'string' ? decided : decided.outcome;
  };

  it('is briefed on the day alone: of one that nobody told of it is asked whether it was in', () => {
    expect(next(two, start + 60_000)).toBe('capillary');
    expect(next(two, nextDay)).toBe('day-before');
    expect(next([...two, ...attempts('s1', 'blood')], nextDay)).toBe('day-before');
  });

  it('does not follow into the second lump', () => {
    expect(next(firstDone, start + 60_000)).toBe('capillary');
    expect(next(firstDone, nextDay)).toBe('day-over');
  });

  it('is no further try, and no doctor is asked for one', () => {
    const tried = (outcomes: readonly AttemptOutcome[], now: number) =>
      sampling.decisions!['after-attempt']!.decide(
        momentOf([...decidedCase(), wellSupplied, ...coded(), ...attempts('s1', ...outcomes)], { now }),
      );
    expect(tried(['blood'], start + 60_000)).toBe('blood');
    expect(tried(['blood'], nextDay)).toBe('day-over');
    expect(tried(['blood', 'blood'], nextDay)).toBe('day-over');
    expect(tried(['material'], nextDay)).toBe('material');
  });

  it('ends what no needle was in and what gave nothing, and nothing else', () => {
    const over = sampling.recorders!['sitting-over']!;
    const ended = (events: readonly CaseEvent[]) =>
      over(momentOf(events, { now: nextDay })).flatMap((act) =>
        act.do === 'record' && act.event.type === 'specimen-closed' ? [act.event.specimen] : [],
      );
    expect(ended(firstDone)).toEqual(['s2']);
    expect(ended([...two, ...attempts('s1', 'material'), fixed('empty', 'empty')])).toEqual(['s1', 's2']);
  });
});
