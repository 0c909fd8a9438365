import type { Case, Specimen } from '../../../src/case/case.ts';
import { specimenOf } from '../../../src/case/case.ts';
import { shipped } from '../../support/shipped.ts';
import type { Said, Walked } from '../transcript.ts';
import { targetFacts } from '../transcript.ts';
import type { Invariant } from './invariant.ts';
import { withCase } from './invariant.ts';

const { texts } = shipped;

/** Texts that name a specimen, by flow and step. */
function namesSpecimen({ flow, step, ask }: Said): string | null {
  if (flow === 'ready' && ask?.field === 'slide-code') return 'pencil';
  if (step === 'labelling.label') return 'label';
  if (step === 'posting.request') return 'request';
  if (flow === 'read-back') return 'read-back';
  if (flow === 'action' && ['calling', 'repeat', 'told-benign'].includes(ask?.field ?? '')) return 'result';
  return null;
}

/** The same side, size and code on label, pencil line, request, read-back and result. */
export const sameNames: Invariant = {
  name: 'pencil line, label, request, read-back and result name the same code, side and size',
  broken: (walked) =>
    withCase(walked).flatMap(({ entry, of }) => {
      if (entry.kind !== 'said' || entry.caseId !== walked.of.id || !of) return [];
      const where = namesSpecimen(entry);
      if (where === null) return [];
      const specimen = specimenOf(of, entry.ask?.item ?? null) ?? specimenOf(of, entry.code);
      if (!specimen) return [`${where} of no specimen: "${entry.text}"`];
      return missing(of, specimen, onPhone(walked, entry)).map((what) => `${where} without ${what}: "${entry.text}"`);
    }),
};

/** All screens of one text: what stands on the phone when it is answered. */
function onPhone({ entries }: Walked, said: Said): string {
  const screens = entries.filter(
    (one): one is Said => one.kind === 'said' && one.to === said.to && one.at === said.at && one.caseId === said.caseId,
  );
  return screens.map(({ text }) => text).join(' ');
}

function missing(of: Case, specimen: Specimen, text: string): readonly string[] {
  const { kind, side, mm } = targetFacts(of, specimen);
  const lacks: string[] = [];
  const grouped = specimen.code.replace(/(\d{4})(?=\d)/g, '$1 ');
  if (!text.includes(specimen.code) && !text.includes(grouped)) lacks.push('its code');
  if (side === null || !names(text, kind, side)) lacks.push(`its side (${side})`);
  const sizes = [mm.join('x'), `${mm[0]} mm`, `${mm[0]}mm`].map((one) => one.toLowerCase());
  if (mm.length === 0 || !sizes.some((one) => text.toLowerCase().includes(one)))
    lacks.push(`its size (${mm.join('x')})`);
  return lacks;
}

/** Whether the text has the side as a letter or as a word. */
function names(text: string, kind: string, side: string): boolean {
  const short = texts.label('en', 'sideShort', side);
  const words = [side, kind === 'node' ? `N${short}` : short, ...texts.words('en', 'side', side)];
  return words.some((word) => new RegExp(`(^|[^a-z])${word}([^a-z]|$)`, 'i').test(text));
}
