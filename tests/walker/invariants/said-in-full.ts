import { shipped } from '../../support/shipped.ts';
import type { Said, Walked } from '../transcript.ts';
import type { Invariant } from './invariant.ts';
import { answersOf, recordsOf, saidOf, withCase } from './invariant.ts';

const { texts } = shipped;
/** What a reminder says whatever it is about, on one screen or on two. */
const reminds = texts
  .render('en', 'doctor.still-waits', () => '\u0000')
  .split('\u0000')
  .filter((piece) => piece.length > 10)
  .map((piece) => piece.trim());

/** Each lump that is advised for a needle is named by its size to the worker, each risk that was said to the doctor who decides. */
export const saidInFull: Invariant = {
  name: 'every lump that is advised, and every risk that was said, stands in the texts that decide',
  broken: (walked) => [...new Set([...lumpsUnnamed(walked), ...risksUnsaid(walked)])],
};

function lumpsUnnamed(walked: Walked): readonly string[] {
  const said = saidOf(walked).filter(({ role }) => role === 'worker');
  return recordsOf(walked).flatMap(({ at, record: { event }, after }) => {
    if (event.type !== 'decided' || event.decision !== 'sample') return [];
    const advice = said.filter((one) => one.at === at && one.flow === 'decision');
    if (!advice.some(({ step }) => step.endsWith('sample'))) return [];
    const text = joined(advice);
    return event.proposed.flatMap((aim) => {
      const mm = aim.kind === 'nodule' && aim.nodule !== null ? answersOf(after)[`${aim.nodule}.mm`] : null;
      const [most] = Array.isArray(mm) ? mm : [];
      return most === undefined || text.includes(`${most} mm`)
        ? []
        : [`the lump of ${most} mm is not named: "${text}"`];
    });
  });
}

function risksUnsaid(walked: Walked): readonly string[] {
  return withCase(walked).flatMap(({ entry, of }) => {
    if (entry.kind !== 'said' || entry.role !== 'doctor' || entry.caseId !== walked.of.id || !of) return [];
    if (!/(^|\.)(urgent-)?decision(-stopped|-cyst)?$/.test(entry.step)) return [];
    const text = joined(saidOf(walked).filter((one) => one.at === entry.at && one.to === entry.to));
    // A reminder names the question, and says how all of it is shown again.
    if (reminds.every((piece) => text.includes(piece))) return [];
    const risks = answersOf(of).risks;
    const known = Array.isArray(risks) ? risks.filter((id) => id !== 'unknown') : [];
    return known
      .filter((id) => !text.includes(texts.label('en', 'risks', String(id))))
      .map((id) => `the doctor is not told ${id}: "${text}"`);
  });
}

const joined = (said: readonly Said[]): string => said.map(({ text }) => text).join(' ');
