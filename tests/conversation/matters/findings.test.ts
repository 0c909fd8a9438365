import { describe, expect, it } from 'vitest';
import { findings } from '../../../src/conversation/matters/findings.ts';
import { ultrasoundWords } from '../../../src/conversation/matters/findings-check.ts';
import { decidedCase, momentOf, said } from './moment-of.ts';

const opened = decidedCase()[0]!;
const begun = [
  opened,
  said('patient.initials', 'AK'),
  said('patient.sex', 'female'),
  said('patient.birthYear', 1982),
  said('dangerSigns', []),
  said('risks', []),
  said('bleeding', []),
  ...['breathing', 'story', 'lump', 'family', 'bleeding'].map((part) => said(`asked.${part}`, [])),
  said('examined', true),
  said('felt', ['right']),
] as const;

describe('what the one-message form said', () => {
  it.each([
    ['in one message', true],
    ['to the question', 'yes'],
  ])('of an overactive gland %s asks for the scan, and whether she is pregnant before it', (_, value) => {
    const events = [...begun, said('tsh', 'unknown'), said('overactiveSigns', value)];
    const next = (more: typeof events) => findings.decisions!['next-finding']!.decide(momentOf(more));
    expect(next(events)).toMatchObject({ outcome: 'pregnant' });
    expect(next([...events, said('patient.pregnant', 'no')])).toMatchObject({ outcome: 'scan' });
  });

  it.each([
    ['in one message', true, 'another probe with a gel pad'],
    ['to the question', 'yes', 'another probe with a gel pad'],
    ['in one message', false, 'another probe, no gel pad'],
    ['to the question', 'no', 'another probe, no gel pad'],
  ])('of a pad %s is read back as it was said: %s', (_, value, words) => {
    const us = [said('ultrasound.done', true), said('ultrasound.probe', 'other'), said('ultrasound.standoff', value)];
    expect(ultrasoundWords(momentOf([...begun, ...us]))).toBe(words);
  });
});
