import type { Case } from '../../../src/case/case.ts';
import { nodulesOf } from '../../../src/case/findings-of.ts';
import { shipped } from '../../support/shipped.ts';
import type { Walked } from '../transcript.ts';
import type { Invariant } from './invariant.ts';
import { answersOf, withCase } from './invariant.ts';

const none = shipped.texts.label('en', 'risks', 'none');
/** What a text may deny, and the answers that must be known for it. */
const denials: readonly (readonly [string, readonly string[]])[] = [
  ['signs', ['dangerSigns']],
  ['risks', ['risks', 'bleeding']],
  ['family', ['risks']],
  ['bleeding', ['bleeding']],
];

/** Nothing unknown or not asked is told as absent, and nothing that was said is denied. */
export const unknownNotAbsent: Invariant = {
  name: 'nothing unknown is told as absent, and nothing that was said is denied',
  broken: (walked) => {
    const breaches = withCase(walked).flatMap(({ entry, of }) => {
      if (entry.kind !== 'said' || entry.caseId !== walked.of.id || !of || entry.role === 'lab') return [];
      const { text } = entry;
      const said = saidBefore(walked, entry.at);
      return [
        ...denials.flatMap(([word, fields]) => {
          if (!new RegExp(`\\b${word}:? ${none}\\b`, 'i').test(text)) return [];
          const open = fields.filter((field) => isOpen(of, field) || said.some((id) => belongs[field]?.includes(id)));
          return open.map((field) => `${field} told as none: "${text}"`);
        }),
        ...looksDenied(of, text, entry.role === 'doctor'),
      ];
    });
    return [...new Set(breaches)];
  },
};

const belongs: Readonly<Record<string, readonly string[]>> = {
  bleeding: ['warfarin', 'heparin', 'antiplatelet', 'oral-anticoagulant', 'iv-antiplatelet', 'bleeding-disorder'],
  risks: ['family-medullary', 'family-thyroid-cancer', 'neck-irradiation', 'pet-focus'],
  dangerSigns: ['stridor', 'rapid-growth', 'voice-change', 'neck-nodes', 'swallowing', 'hard-or-fixed'],
};

/** Facts that the worker said in the one-message form. */
function saidBefore(walked: Walked, at: number): readonly string[] {
  return walked.entries.flatMap((one) => (one.kind === 'sent' && one.at <= at && one.ask === null ? one.ids : []));
}

function isOpen(of: Case, field: string): boolean {
  const value = answersOf(of)[field];
  return !Array.isArray(value) || value.includes('unknown');
}

/** A doctor who reads "none" behind a lump takes it for looked at and not there. */
function looksDenied(of: Case, text: string, forDoctor: boolean): readonly string[] {
  if (!forDoctor) return [];
  return nodulesOf(of).flatMap((id) => {
    const answers = answersOf(of);
    const composition = answers[`${id}.composition`];
    if (typeof composition !== 'string') return [];
    const inside = shipped.texts.label('en', 'composition', composition);
    if (!text.includes(`${inside} ${none}`)) return [];
    const looks = ['echogenicity', 'margin', 'foci', 'capsule'].filter((field) => {
      const value = answers[`${id}.${field}`];
      return value === 'unknown' || (Array.isArray(value) && value.includes('unknown'));
    });
    return looks.length === 0 ? [] : [`${looks.join(', ')} of ${id} not known, told as none: "${text}"`];
  });
}
