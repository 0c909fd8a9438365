import { shipped } from '../../support/shipped.ts';
import type { Entry, Recorded, Said, Walked } from '../transcript.ts';
import type { Invariant } from './invariant.ts';
import { saysOneOf } from './words-told.ts';

const { texts } = shipped;
/** Doctors' questions that ask what to do about the decision. */
const decides = new Set(['decision', 'urgent-decision', 'urgent-referral', 'emergency']);
const policyLevel = /^(acr|eu|ata)-/;
/** Of the score, not of a gate: the doctor reads the look and the size themselves. */
const ofScore = new Set([
  ...['cystic', 'spongiform', 'mixed', 'solid', 'hidden-by-calcium', 'composition-unknown', 'solid-part-not-measured'],
  ...['size-reached', 'size-not-reached', 'taller-than-wide', 'microcalcification', 'irregular-margin'],
  ...['capsule-invaded', 'pet-focus', 'higher-risk', 'grown'],
]);
/** Signs whose word is their id as well. */
const signs = new Set(['hard', 'fixed']);
/** Said as what is missing, or by the size itself. */
const steps: Readonly<Record<string, string>> = {
  'not-examined': 'decision.step-examination',
  'no-ultrasound': 'decision.step-ultrasound',
  'danger-signs-unknown': 'decision.caution-danger-signs-open',
  'size-reached': 'decision.because-over-size',
  'size-not-reached': 'decision.because-not-over-size',
};

/** Every reason of the gates in the record stands in the worker's text and in the doctor's. */
export const reasonsTold: Invariant = {
  name: 'every reason in the record stands in the texts of worker and doctor',
  broken: (walked) => {
    const breaches: string[] = [];
    walked.entries.forEach((entry, index) => {
      if (entry.kind !== 'recorded' || entry.record.event.type !== 'decided' || entry.caseId !== walked.of.id) return;
      const { decision } = entry.record.event;
      // Told when it was decided: what a doctor adds changes no reason.
      const before = walked.entries.slice(0, index).findLast(isDecided);
      if (before && same(before, entry)) return;
      const assessment = entry.record.event.assessment as { readonly because?: readonly string[] } | null;
      const reasons = (assessment?.because ?? []).filter((one) => !policyLevel.test(one));
      const { worker, doctor } = textsUntilNext(walked, index);
      // The first screen of an emergency holds the emergency and nothing else.
      if (decision !== 'emergency-now' && worker !== '') {
        for (const one of reasons) if (!stands(one, worker)) breaches.push(`worker is not told ${one}: "${worker}"`);
      }
      if (doctor !== '') {
        for (const one of reasons.filter((id) => !ofScore.has(id)))
          if (!stands(one, doctor)) breaches.push(`doctor is not told ${one}: "${doctor}"`);
      }
    });
    return [...new Set(breaches)];
  },
};

const isDecided = (one: Entry): one is Recorded => one.kind === 'recorded' && one.record.event.type === 'decided';

const reasonsOf = (assessment: unknown): string =>
  JSON.stringify((assessment as { readonly because?: readonly string[] } | null)?.because ?? []);

function same(one: Recorded, other: Recorded): boolean {
  const [a, b] = [one.record.event, other.record.event];
  return a.type === 'decided' && b.type === 'decided' && reasonsOf(a.assessment) === reasonsOf(b.assessment);
}

/** What worker and doctor have read until the next decision, each as one text; empty where nothing was said of this one. */
function textsUntilNext(walked: Walked, index: number): { readonly worker: string; readonly doctor: string } {
  const rest = walked.entries.slice(index + 1);
  const next = rest.findIndex((one) => isDecided(one) && !same(one, walked.entries[index] as Recorded));
  const until = next < 0 ? rest : rest.slice(0, next);
  const saidOf = (entries: readonly Entry[]): readonly Said[] =>
    entries.filter((one): one is Said => one.kind === 'said' && one.caseId === walked.of.id);
  const joined = (is: (one: Said) => boolean): string => {
    if (!saidOf(until).some(is)) return '';
    const all = saidOf([...walked.entries.slice(0, index), ...until]).filter(is);
    return [...new Set(all.map(({ text }) => text))].join(' ');
  };
  const { event } = (walked.entries[index] as Recorded).record;
  const isUrgent = event.type === 'decided' && ['refer-urgent', 'emergency-now'].includes(event.decision);
  // A patient who cannot lie flat is sent urgently for that, whatever was decided before.
  const isOf = (step: string): boolean => isUrgent || !step.endsWith('urgent-referral');
  return {
    worker: joined(({ role, flow }) => role === 'worker' && flow === 'decision'),
    doctor: joined(({ role, step }) => role === 'doctor' && decides.has(step.split('.').at(-1)!) && isOf(step)),
  };
}

/** Whether a text holds the words of a reason, or of the finding itself, whatever numbers stand in them. */
function stands(reason: string, text: string): boolean {
  const labels = ['dangerSigns', 'risks', 'bleeding'].map((field) => texts.label('en', field, reason));
  const isWord = signs.has(reason);
  if (labels.some((label) => label !== '' && (isWord || label !== reason) && text.includes(label))) return true;
  const keys = [`decision.because-${reason}`, ...(steps[reason] ? [steps[reason]] : [])].filter((key) =>
    texts.has(key),
  );
  if (keys.length === 0) return true;
  return saysOneOf(keys, text);
}
