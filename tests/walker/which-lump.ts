/** Which of the patient's lumps a question or a specimen is about. */
import type { Case } from '../../src/case/case.ts';
import { specimenOf } from '../../src/case/case.ts';
import type { Lump } from './lump.ts';
import { type Ask, targetFacts } from './transcript.ts';
import type { Truth } from './truth.ts';

interface About {
  readonly ask: Pick<Ask, 'item'>;
  readonly truth: Truth;
  readonly of: Case | null;
}

/** The lump that the question is about: measured ones by their place in the list, specimens by their record. */
export function lumpOfAsk({ ask, truth, of }: About): Lump | null {
  const { item } = ask;
  if (item === null) return truth.lumps[0] ?? null;
  if (item === 'felt') return feltOn(truth, of?.answers['felt.site']);
  const measured = /^n(\d+)$/.exec(item);
  if (measured) return truth.lumps[Number(measured[1]) - 1] ?? null;
  const specimen = of ? specimenOf(of, item) : null;
  if (!of || !specimen) return truth.lumps[0] ?? null;
  const facts = targetFacts(of, specimen);
  if (facts.kind === 'node') return null;
  const named = /^n(\d+)$/.exec(facts.nodule ?? '');
  const byName = named ? truth.lumps[Number(named[1]) - 1] : undefined;
  // Not measured: the hand found it.
  if (facts.nodule === null) return feltOn(truth, facts.side);
  return byName ?? truth.lumps.find((lump) => lump.side === facts.side) ?? truth.lumps[0] ?? null;
}

/** The lump that the hand finds, on a side where one is named. */
function feltOn({ lumps }: Truth, side: unknown): Lump | null {
  const felt = lumps.filter((lump) => lump.felt);
  return (
    felt.find((lump) => lump.side === side) ?? felt[0] ?? lumps.find((lump) => lump.side === side) ?? lumps[0] ?? null
  );
}
