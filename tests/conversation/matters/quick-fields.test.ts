import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { QuickVocabulary } from '../../../src/conversation/answers/quick-vocabulary.ts';
import { quickFields } from '../../../src/conversation/matters/quick-fields.ts';
import { readQuickText } from '../../../src/conversation/quick-text.ts';

const english = JSON.parse(
  readFileSync(new URL('../../../locales/en/quick.json', import.meta.url), 'utf8'),
) as QuickVocabulary;

/** What the case holds after this quick text, by field. */
const kept = (text: string): Record<string, unknown> =>
  Object.fromEntries(
    quickFields(readQuickText(`NEW EL 1961 F ${text}`, english, 2030).answers).map(({ field, item, value }) => [
      item ? `${item}.${field}` : field,
      value,
    ]),
  );

describe('a quick text keeps every fact that was said', () => {
  it.each([
    ['risks 0 haemophilia', { risks: [], 'asked.family': [], bleeding: ['bleeding-disorder', 'unknown'] }],
    ['haemophilia risks 0', { risks: [], bleeding: ['bleeding-disorder', 'unknown'] }],
    ['risks 0 warfarin', { bleeding: ['warfarin', 'unknown'] }],
    ['bleeding 0 warfarin', { bleeding: ['warfarin', 'unknown'] }],
    ['aspirin', { bleeding: ['antiplatelet', 'unknown'] }],
    ['radiation bleeding 0', { risks: ['neck-irradiation', 'unknown'], bleeding: [], 'asked.bleeding': [] }],
    ['signs 0 stridor', { dangerSigns: ['stridor', 'unknown'] }],
    ['hoarse', { dangerSigns: ['voice-change', 'unknown'] }],
    ['fixed', { dangerSigns: ['fixed', 'unknown'] }],
    ['does not rise', { dangerSigns: ['fixed', 'unknown'] }],
    ['cannot lie flat', { dangerSigns: ['breathless', 'unknown'] }],
    ['moves with the tongue', { lump: ['moves-with-tongue', 'unknown'] }],
  ])('%j', (text, fields) => {
    expect(kept(text)).toMatchObject(fields);
  });

  it.each([
    ['risks 0 haemophilia', 'asked.bleeding'],
    ['bleeding 0 warfarin', 'asked.bleeding'],
    ['signs 0 hoarse', 'asked.story'],
    ['signs 0 pulsating', 'asked.lump'],
    ['radiation', 'asked.family'],
    ['R 22x15x14 foci 0 micro', 'n1.asked-bright'],
  ])('%j is asked about all the same', (text, field) => {
    expect(kept(text)).not.toHaveProperty([field]);
  });

  it('"signs 0" denies breathing, story and lump together', () => {
    expect(kept('signs 0')).toEqual({
      ...{ 'patient.initials': 'EL', 'patient.birthYear': 1961, 'patient.sex': 'female' },
      ...{ dangerSigns: [], 'asked.breathing': [], 'asked.story': [], 'asked.lump': [], lump: [] },
    });
  });

  it('signs that were named answer their own questions: nothing was said of the breathing', () => {
    const said = kept('signs hoarse nodes');
    expect(said).toMatchObject({
      dangerSigns: ['voice-change', 'neck-nodes', 'unknown'],
      ...{ 'asked.story': ['voice-change'], 'asked.lump': ['neck-nodes'] },
    });
    expect(said).not.toHaveProperty(['asked.breathing']);
  });

  it('a sign of each question answers all three', () => {
    const said = kept('signs breathless hoarse nodes');
    expect(said).toMatchObject({
      dangerSigns: ['breathless', 'voice-change', 'neck-nodes'],
      'asked.breathing': ['breathless'],
    });
  });

  it('no sign and a beating lump leave the lump open', () => {
    expect(kept('signs 0 pulsating')).toMatchObject({ dangerSigns: ['unknown'], lump: ['pulsates', 'unknown'] });
  });

  it('a thinner said by its name in a whole list is not asked for again', () => {
    expect(kept('bleeding apixaban')).toMatchObject({ otherThinner: true, thinnerKind: ['oral-anticoagulant'] });
  });
});

describe('the side of a felt lump in a quick text', () => {
  it('is that of its one size', () => {
    expect(kept('L 22x15x14 felt')).toMatchObject({ felt: ['left'], examined: true });
    expect(kept('R 22x15x14 L 9x8x7 felt left')).toMatchObject({ felt: ['left'] });
  });

  it('is asked where lumps of both sides were measured', () => {
    expect(kept('R 22x15x14 L 9x8x7 felt')).not.toHaveProperty('felt');
    expect(kept('R 22x15x14 L 9x8x7 felt')).not.toHaveProperty('examined');
  });
});
