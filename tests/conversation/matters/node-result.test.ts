import { describe, expect, it } from 'vitest';
import { answered } from '../../../src/case/answers.ts';
import type { EarlierSample } from '../../../src/case/earlier.ts';
import type { CaseEvent, FiledResult } from '../../../src/case/events.ts';
import { readNode } from '../../../src/conversation/matters/node-result.ts';
import { contradiction, isPressingResult, resultKind } from '../../../src/conversation/matters/result-kind.ts';
import type { Turn } from '../../../src/conversation/turn.ts';
import type { Person } from '../../../src/conversation/world.ts';
import { caseOf, opened } from '../../support/case-fixture.ts';
import { shipped } from '../../support/shipped.ts';

const turn = { world: { texts: shipped.texts } } as unknown as Turn;
const laboratory = { locale: 'en' } as unknown as Person;
const read = (words: string) => readNode(turn, laboratory, words);

function understood(words: string): FiledResult {
  const result = read(words);
  if ('ask' in result) throw new Error(`${words} was asked back: ${result.ask}`);
  return result;
}

/** A case with a sampled node whose result is this. */
function resulted(words: string, earlier: readonly EarlierSample[] = []): ReturnType<typeof caseOf> {
  const target = { kind: 'node', side: 'left', mm: [18], level: 'II' } as const;
  const events: readonly CaseEvent[] = [
    ...opened,
    answered('earlier', earlier),
    { type: 'code-issued', specimen: 's1', target, code: '48291354', technique: 'holder', slides: 2 },
    { type: 'result-filed', specimen: 's1', result: understood(words), amends: null, reason: null },
  ];
  return caseOf(events);
}

describe('the result of a neck node, as the laboratory texts it', () => {
  it('is kept in its own system and never becomes a thyroid category', () => {
    expect(read('L2 tuberculosis')).toEqual({
      said: 'L2',
      system: 'Sydney',
      code: 'L2',
      canonical: 'L2',
      words: 'tuberculosis',
      infections: ['tuberculosis'],
    });
  });

  it.each([
    ['Thy2', 'laboratory.ask-is-a-node'],
    ['Bethesda VI', 'laboratory.ask-is-a-node'],
    ['2', 'laboratory.ask-node'],
    ['level II reactive', 'laboratory.ask-node'],
    ['malignant', 'laboratory.ask-node'],
    ['L4/5', 'laboratory.ask-two-codes'],
    ['L7', 'laboratory.ask-no-such-code'],
  ])('%s is asked back in words: %s', (words, ask) => {
    expect(read(words)).toMatchObject({ ask });
  });

  it.each(['L2', 'L2 reactive', 'L2 benign'])('%s: tuberculosis or granuloma is asked for', (words) => {
    expect(read(words)).toMatchObject({ ask: 'laboratory.ask-node-infection' });
  });

  it.each(['L2 tuberculosis', 'L2 granuloma, AFB negative', 'L2 no granuloma', 'L2 reactive, no TB'])(
    '%s is not asked again',
    (words) => {
      expect(read(words)).toMatchObject({ code: 'L2' });
    },
  );

  it.each([
    ['L1 blood only', 'node-repeat', false],
    ['L2 no granuloma', 'node-benign', false],
    ['L2 tuberculosis', 'node-treat', true],
    ['L2 granuloma, AFB not seen', 'node-treat', true],
    ['L2 no granuloma, lymphoma?', 'node-urgent', true],
    ['L3', 'node-urgent', true],
    ['L4', 'node-urgent', true],
    ['L5 metastatic papillary', 'node-urgent', true],
    ['L1 lymphoma cannot be excluded', 'node-urgent', true],
  ])('%s goes on as %s', (words, kind, pressing) => {
    const of = resulted(words);
    expect(resultKind(of, 's1')).toBe(kind);
    expect(isPressingResult(of, 's1')).toBe(pressing);
    // It speaks neither for nor against the lump.
    expect(contradiction(of, 's1')).toBe('no');
  });

  it.each([
    ['a node of this side that could not be read', 'left', 'L1', 'node-second'],
    ['a node of the other side', 'right', 'L1', 'node-repeat'],
    ['a lump of this side', 'left', 'Thy1', 'node-repeat'],
    ['a node of this side that could be read', 'left', 'L2', 'node-repeat'],
  ])('L1 after %s', (_, side, canonical, kind) => {
    expect(resultKind(resulted('L1', [{ side, canonical }]), 's1')).toBe(kind);
  });
});
