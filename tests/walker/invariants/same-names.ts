import type { Case, Specimen } from '../../../src/case/case.ts';
import { specimenOf } from '../../../src/case/case.ts';
import type { Said, Walked } from '../transcript.ts';
import { targetFacts } from '../transcript.ts';
import type { Invariant } from './invariant.ts';
import { withCase } from './invariant.ts';
import { sampledNames } from './sampled-names.ts';

/** Questions that tell a result to the worker. */
const toldResult = new Set(['calling', 'repeat', 'told-benign']);

/** A doctor's question about a result. */
const resultQuestion = /^(thy1|thy2-|thy3|thy4|thy5|typed|refer-first|node-)/;

/** A reminder of what is still open: it shows the question when it is asked for. */
const reminds = /\d alone shows all of it/;

/** Texts that name a specimen, by flow and step. */
function namesSpecimen({ flow, step, ask, role, text }: Said): string | null {
  if (flow === 'ready' && ask?.field === 'slide-code') return 'pencil';
  if (step === 'labelling.label') return 'label';
  if (flow === 'labelling' && ask?.field === 'label-check') return 'label-check';
  if (step === 'posting.request') return 'request';
  if (flow === 'read-back') return 'read-back';
  if (flow === 'action' && toldResult.has(ask?.field ?? '')) return 'result';
  if (role === 'doctor' && ask !== null && !reminds.test(text) && resultQuestion.test(step)) return "doctor's result";
  return null;
}

/** The same side, size and code on label, pencil line, request, read-back and result, and no other. */
export const sameNames: Invariant = {
  name: 'pencil line, label, request, read-back and result name the same code, side and size',
  broken: (walked) =>
    withCase(walked).flatMap(({ entry, of }) => {
      if (entry.kind !== 'said' || entry.caseId !== walked.of.id || !of) return [];
      const where = namesSpecimen(entry);
      if (where === null) return [];
      const specimen = specimenOf(of, entry.ask?.item ?? null) ?? specimenOf(of, entry.code);
      if (!specimen) return [`${where} of no specimen: "${entry.text}"`];
      return wrong(of, specimen, where, onPhone(walked, entry)).map((what) => `${where} ${what}: "${entry.text}"`);
    }),
};

/** All screens of one text: what stands on the phone when it is answered. */
function onPhone({ entries }: Walked, said: Said): string {
  const screens = entries.filter(
    (one): one is Said =>
      one.kind === 'said' &&
      one.to === said.to &&
      one.at === said.at &&
      one.caseId === said.caseId &&
      one.flow === said.flow &&
      one.step === said.step &&
      one.code === said.code,
  );
  return screens.map(({ text }) => text).join('\n');
}

function wrong(of: Case, specimen: Specimen, where: string, text: string): readonly string[] {
  const { kind, side, mm } = targetFacts(of, specimen);
  const found: string[] = [];
  // What is compared with the glass has neither code nor size in it.
  const isWhole = where !== 'label-check';
  const grouped = specimen.code.replace(/(\d{4})(?=\d)/g, '$1 ');
  if (isWhole && !text.includes(specimen.code) && !text.includes(grouped)) found.push('without its code');
  const named = sampledNames(text).filter((one) => one.kind === kind);
  if (side === null || !named.some((one) => one.side === side)) found.push(`without its side (${side})`);
  for (const other of named) if (other.side !== side) found.push(`with another side (${other.side})`);
  const sizes = [mm.join('x'), String(mm[0])];
  if (isWhole && !named.some(({ size }) => sizes.includes(size ?? '')))
    found.push(`without its size (${mm.join('x')})`);
  return [...new Set(found)];
}
