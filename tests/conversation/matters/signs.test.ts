import { describe, expect, it } from 'vitest';
import { answerToPart, withPart } from '../../../src/case/asked-parts.ts';
import type { CaseEvent } from '../../../src/case/events.ts';
import { readers } from '../../../src/conversation/matters/findings-readers.ts';
import { shipped } from '../../support/shipped.ts';
import { momentOf, said } from './moment-of.ts';

const opened = { type: 'opened', tag: 'BO', siteId: 'oruma', ownerId: 'w', practice: false } as const;

/** The shipped question of this name, over what was answered before. */
function ask(state: string, ...before: readonly CaseEvent[]) {
  const { field, options } = shipped.flows.newest.get('new')!.states.get(state)!.ask!;
  return momentOf([opened, ...before], { item: null, field, options });
}

/** What a reply records, by field; the reason where it cannot be read. */
function recorded(state: string, reply: string, ...before: readonly CaseEvent[]): Record<string, unknown> {
  const moment = ask(state, ...before);
  const { field, reader } = shipped.flows.newest.get('new')!.states.get(state)!.ask!;
  const read = readers[reader!]!(reply, moment);
  return read.ok ? { [field]: read.value.value, ...read.value.fields } : { reason: read.reason };
}

const breathesWell = [said('dangerSigns', ['unknown']), said('asked.breathing', [])];
const noStory = [said('dangerSigns', ['unknown']), said('asked.breathing', []), said('asked.story', [])];

describe('danger signs in three questions', () => {
  it('are denied only when all three were, and open until then', () => {
    expect(recorded('breathing', '60')).toMatchObject({ dangerSigns: ['unknown'], 'asked.breathing': [] });
    expect(recorded('story', '70', ...breathesWell)).toMatchObject({ dangerSigns: ['unknown'], 'asked.story': [] });
    expect(recorded('lump', '80', ...noStory)).toMatchObject({ dangerSigns: [], lump: [], 'asked.lump': [] });
  });

  it('keep what another question found', () => {
    const hoarse = [
      said('dangerSigns', ['voice-change', 'unknown']),
      said('asked.breathing', []),
      said('asked.story', ['voice-change']),
    ];
    expect(recorded('lump', '14', ...hoarse)).toMatchObject({ dangerSigns: ['voice-change', 'hard', 'neck-nodes'] });
  });

  it.each(['breathing', 'story', 'lump', 'bleeding'])('at %s a bare 0, or a bare "none", denies nothing', (state) => {
    for (const reply of ['0', ' 0', 'none', 'none of these']) {
      expect(recorded(state, reply), reply).toEqual({ reason: 'own-none' });
    }
  });

  it('are not denied by the number of another of these questions', () => {
    const own = { breathing: '60', story: '70', lump: '80', bleeding: '40' };
    for (const state of Object.keys(own)) {
      for (const [other, reply] of Object.entries(own)) {
        if (other !== state) expect(recorded(state, reply), `${state} ${reply}`).toHaveProperty('reason');
      }
    }
  });

  it('none beside a sign is neither', () => {
    expect(recorded('story', '1 70')).toEqual({ reason: 'none-with-others' });
  });

  it('9 is not asked, and wipes no sign that was said', () => {
    expect(recorded('story', '9', ...breathesWell)).toMatchObject({
      dangerSigns: ['unknown'],
      'asked.story': ['unknown'],
    });
    const hoarse = [
      said('dangerSigns', ['voice-change']),
      said('asked.breathing', []),
      said('asked.story', ['voice-change']),
      said('asked.lump', []),
    ];
    expect(recorded('story', '9', ...hoarse)).toMatchObject({
      dangerSigns: ['voice-change', 'unknown'],
      'asked.story': ['voice-change', 'unknown'],
    });
  });

  it('a lump that beats like a pulse or moves with the tongue is a finding of its own', () => {
    expect(recorded('lump', '3', ...noStory)).toMatchObject({ dangerSigns: [], lump: ['pulsates'] });
    expect(recorded('lump', 'moves with the tongue', ...noStory)).toMatchObject({ lump: ['moves-with-tongue'] });
    expect(recorded('lump', '1 moves with tongue', ...noStory)).toMatchObject({
      dangerSigns: ['hard'],
      lump: ['moves-with-tongue'],
    });
    expect(recorded('lump', '9', ...noStory)).toMatchObject({ lump: ['unknown'] });
  });

  it('what does not go up on swallowing is a fixed lump, or a node beside the thyroid', () => {
    const fixed = [...noStory, said('dangerSigns', ['fixed']), said('asked.lump', ['fixed'])];
    expect(recorded('fixed-lump', '5', ...fixed)).toEqual({ fixedLump: 'thyroid' });
    expect(recorded('fixed-lump', '6', ...fixed)).toEqual({
      fixedLump: 'node',
      dangerSigns: ['neck-nodes'],
      'asked.lump': ['neck-nodes'],
    });
    expect(recorded('fixed-lump', '9', ...fixed)).toEqual({ fixedLump: 'unknown' });
  });
});

describe('family and bleeding are two questions', () => {
  it('so that 9 says which of them is not known', () => {
    expect(recorded('family', '39')).toMatchObject({ risks: ['neck-irradiation', 'unknown'] });
    expect(recorded('family', '0')).toMatchObject({ risks: [], 'asked.family': [] });
    expect(recorded('bleeding', '9')).toMatchObject({ bleeding: ['unknown'], 'asked.bleeding': ['unknown'] });
  });

  it('a thinner without its name leaves the list open until it is named', () => {
    expect(recorded('bleeding', '56')).toMatchObject({ bleeding: ['warfarin', 'unknown'], otherThinner: true });
    const other = [
      said('bleeding', ['warfarin', 'unknown']),
      said('asked.bleeding', ['warfarin']),
      said('otherThinner', true),
    ];
    expect(recorded('thinner', '1', ...other)).toMatchObject({ bleeding: ['warfarin', 'antiplatelet'] });
    expect(recorded('thinner', '9', ...other)).toMatchObject({ bleeding: ['warfarin', 'unknown'] });
  });

  it('a thinner that was named stands until another name takes its place, also where nobody asks for one any more', () => {
    const named = [said('bleeding', ['oral-anticoagulant', 'unknown'])];
    expect(recorded('bleeding', '67', ...named).bleeding).toEqual([
      'bleeding-disorder',
      'oral-anticoagulant',
      'unknown',
    ]);
    const again = [...named, said('asked.bleeding', []), said('otherThinner', true)];
    expect(recorded('thinner', '1', ...again)).toMatchObject({ bleeding: ['antiplatelet'] });
  });

  it('9 keeps warfarin with its INR, and aspirin with its name', () => {
    const before = [
      said('bleeding', ['warfarin', 'antiplatelet']),
      said('asked.bleeding', ['warfarin']),
      said('inr', 2.4),
    ];
    expect(recorded('bleeding', '9', ...before)).toMatchObject({
      bleeding: ['warfarin', 'antiplatelet', 'unknown'],
      otherThinner: true,
      thinnerKind: ['antiplatelet'],
    });
    expect(recorded('bleeding', '9', ...before)).not.toHaveProperty('inr');
    expect(recorded('bleeding', '40', ...before)).toMatchObject({ bleeding: [], otherThinner: false, inr: null });
  });
});

describe('a part of a list', () => {
  it('was not asked until it was answered', () => {
    const of = ask('story', ...breathesWell).case!;
    expect(answerToPart(of, 'breathing')).toEqual([]);
    expect(answerToPart(of, 'story')).toBeNull();
  });

  it('is open while a sister is', () => {
    expect(withPart({}, 'family', [])).toEqual([]);
    expect(withPart({}, 'breathing', [])).toEqual(['unknown']);
  });
});
