import { describe, expect, it } from 'vitest';
import type { ShownOption } from '../../../src/conversation/answers/answer.ts';
import { readChoice } from '../../../src/conversation/answers/choice.ts';
import { readChoices } from '../../../src/conversation/answers/choices.ts';
import { readPerSlide } from '../../../src/conversation/answers/per-slide.ts';

const option = (reply: string, id: string, ...words: string[]): ShownOption => ({ reply, id, words });

const composition = [
  option('1', 'cystic', 'cystic', 'all fluid'),
  option('2', 'spongiform', 'sponge'),
  option('3', 'mixed', 'part fluid part solid'),
  option('4', 'solid', 'solid', 'solido'),
  option('9', 'unknown', 'cannot tell'),
];
const attempt = [option('21', 'material'), option('22', 'blood'), option('23', 'little'), option('24', 'unwell')];
const supplies = [
  option('1', 'syringe', 'syringe'),
  option('2', 'holder'),
  option('3', 'fine-needles'),
  option('5', 'slides'),
  option('7', 'alcohol', 'alcohol'),
  option('H', 'helper', 'helper'),
  option('0', 'none', 'none'),
  option('9', 'unknown', 'unsure'),
];

describe('one option', () => {
  it.each([
    ['its digit', '4', 'solid'],
    ['a full stop behind', '4.', 'solid'],
    ['a bracket behind', '4)', 'solid'],
    ['a word in any case', 'SOLID', 'solid'],
    ['a word with an accent', 'sólido', 'solid'],
    ['a digit of another script', '٤', 'solid'],
    ['a keycap', '4\ufe0f\u20e3', 'solid'],
    ['right-to-left marks', '\u200f4\u200f', 'solid'],
    ['several words', 'All  fluid!', 'cystic'],
    ['words that hold other words', 'part fluid, part solid', 'mixed'],
    ['digit and word of the same', '4 solid', 'solid'],
    ['quotation marks', '“solid”', 'solid'],
  ])('is read by %s', (_how, text, id) => {
    expect(readChoice(text, composition)).toEqual({ ok: true, value: id });
  });

  it.each([
    ['nothing', ' \n ', 'empty'],
    ['two different ones', '4 1', 'one-only'],
    ['two digits run together', '41', 'one-only'],
    ['a digit that was not offered', '7', 'not-an-option'],
    ['a denied word', 'not solid', 'not-an-option'],
    ['a half', '½', 'not-an-option'],
    ['a text of 10,000 characters', '4'.repeat(10_000), 'too-long'],
  ])('is not read from %s', (_what, text, reason) => {
    expect(readChoice(text, composition)).toEqual({ ok: false, reason });
  });

  it('counts a reply of several digits whole: a late bare digit answers nothing', () => {
    expect(readChoice('21', attempt)).toEqual({ ok: true, value: 'material' });
    expect(readChoice('2', attempt)).toEqual({ ok: false, reason: 'not-an-option' });
    expect(readChoice('1', attempt)).toEqual({ ok: false, reason: 'not-an-option' });
    expect(readChoice('12', attempt)).toEqual({ ok: false, reason: 'not-an-option' });
    expect(readChoice('2 1', attempt)).toEqual({ ok: false, reason: 'not-an-option' });
    expect(readChoice('21 22', attempt)).toEqual({ ok: false, reason: 'one-only' });
  });

  it('takes a word that stands for two options for neither', () => {
    const twins = [option('1', 'a', 'yes'), option('2', 'b', 'yes')];
    expect(readChoice('yes', twins)).toEqual({ ok: false, reason: 'not-an-option' });
  });
});

describe('several options', () => {
  it.each([
    ['135', ['syringe', 'fine-needles', 'slides']],
    ['1 3 5', ['syringe', 'fine-needles', 'slides']],
    ['1,3,5', ['syringe', 'fine-needles', 'slides']],
    ['1.3.5', ['syringe', 'fine-needles', 'slides']],
    ['1357H', ['syringe', 'fine-needles', 'slides', 'alcohol', 'helper']],
    ['h 7', ['alcohol', 'helper']],
    ['7 7 1', ['syringe', 'alcohol']],
    ['531', ['syringe', 'fine-needles', 'slides']],
    ['syringe, alcohol + helper', ['syringe', 'alcohol', 'helper']],
    ['19', ['syringe', 'unknown']],
    ['0', ['none']],
    ['none', ['none']],
    ['١٣', ['syringe', 'fine-needles']],
  ])('are read from %j', (text, ids) => {
    expect(readChoices(text, supplies)).toEqual({ ok: true, value: ids });
  });

  it.each([
    ['01', 'none-with-others'],
    ['10', 'none-with-others'],
    ['0 9', 'none-with-others'],
    ['14', 'not-an-option'],
    ['1 and 3', 'not-an-option'],
    ['1-3', 'not-an-option'],
    ['no alcohol', 'not-an-option'],
    ['', 'empty'],
    ['?', 'not-an-option'],
  ])('are not read from %j', (text, reason) => {
    expect(readChoices(text, supplies)).toEqual({ ok: false, reason });
  });

  it('may be joined by words of the language', () => {
    expect(readChoices('1 and 3', supplies, ['and'])).toEqual({ ok: true, value: ['syringe', 'fine-needles'] });
  });
});

describe('one digit a slide', () => {
  const states = [option('1', 'wet'), option('2', 'late'), option('3', 'dried'), option('0', 'empty')];
  it.each([
    ['1112', ['wet', 'wet', 'wet', 'late']],
    ['1 1 0 3', ['wet', 'wet', 'empty', 'dried']],
    ['1,1,1,1.', ['wet', 'wet', 'wet', 'wet']],
    ['١١١٢', ['wet', 'wet', 'wet', 'late']],
  ])('is read from %j', (text, ids) => {
    expect(readPerSlide(text, 4, states)).toEqual({ ok: true, value: ids });
  });

  it.each([
    ['111', 'wrong-count'],
    ['11111', 'wrong-count'],
    ['1', 'wrong-count'],
    ['1114', 'not-an-option'],
    ['all wet', 'not-an-option'],
    ['', 'empty'],
  ])('is never filled up: %j', (text, reason) => {
    expect(readPerSlide(text, 4, states)).toEqual({ ok: false, reason });
  });
});
