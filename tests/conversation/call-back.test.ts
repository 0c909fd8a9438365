import { describe, expect, it } from 'vitest';
import { doctorPhones } from '../../src/conversation/call-back.ts';
import type { QuestionAbout } from '../../src/conversation/flow.ts';
import { shipped } from '../support/shipped.ts';

const english = shipped.sources.locales.find((one) => one.tag === 'en')!;
const desk = english.files.find((one) => one.name === 'doctor')!;
const asked = Object.entries(desk.options).flatMap(([about, words]) =>
  words['call-me'] === undefined ? [] : [{ about: about as QuestionAbout }],
);

describe('who phones whom when a doctor wants to speak with the clinic', () => {
  it.each(asked)('$about: as its choice says', ({ about }) => {
    const label = shipped.texts.label('en', about, 'call-me');
    expect(doctorPhones.has(about)).toBe(label !== 'call me');
  });
});
