import type { Case } from '../../../src/case/case.ts';
import { nodulesOf } from '../../../src/case/findings-of.ts';
import { shipped } from '../../support/shipped.ts';
import type { Walked } from '../transcript.ts';
import type { Invariant } from './invariant.ts';
import { answersOf, withCase } from './invariant.ts';

const { texts } = shipped;
const words = (key: Parameters<typeof texts.render>[1]): string => texts.render('en', key, () => '\u0000');

/** The sentence of the read-back that denies, and its places. */
const [denies = '', until = ''] = words('new.check-none').split('\u0000');
const noLook = words('gaps.looks-none');
const notFelt = words('gaps.felt-none');
const notOveractive = words('new.check-not-overactive');

/** What each line of the read-back is about: its list in the record, and what may be said there. */
const lines = {
  breathing: { field: 'dangerSigns', ids: ['stridor', 'breathless'] },
  story: { field: 'dangerSigns', ids: ['voice-change', 'swallowing', 'rapid-growth'] },
  lump: { field: 'dangerSigns', ids: ['hard', 'fixed', 'hard-or-fixed', 'neck-nodes'] },
  family: { field: 'risks', ids: ['family-medullary', 'family-thyroid-cancer', 'neck-irradiation', 'pet-focus'] },
  bleeding: {
    field: 'bleeding',
    ids: ['warfarin', 'heparin', 'antiplatelet', 'oral-anticoagulant', 'iv-antiplatelet', 'bleeding-disorder'],
  },
} as const;
type Line = keyof typeof lines;

/** Nothing unknown or not asked is told as absent, and nothing that was said is denied. */
export const unknownNotAbsent: Invariant = {
  name: 'nothing unknown is told as absent, and nothing that was said is denied',
  broken: (walked) => {
    const breaches = withCase(walked).flatMap(({ entry, of }) => {
      if (entry.kind !== 'said' || entry.caseId !== walked.of.id || !of) return [];
      const { text } = entry;
      return [
        ...linesDenied(of, text, saidBefore(walked, entry.at)),
        ...looksDenied(of, text),
        ...factsDenied(of, text),
      ].map((what) => `${what}: "${text}"`);
    });
    return [...new Set(breaches)];
  },
};

/** Lines behind the words that deny which are open, or of which something was said. */
function linesDenied(of: Case, text: string, said: readonly string[]): readonly string[] {
  const [, behind] = text.split(denies);
  if (behind === undefined) return [];
  const denied = behind.slice(0, behind.indexOf(until));
  return (Object.keys(lines) as readonly Line[])
    .filter((line) => denied.split('; ').some((one) => one.endsWith(words(`new.line-${line}`))))
    .filter((line) => isOpen(of, `asked.${line}`) || has(of, line) || lines[line].ids.some((id) => said.includes(id)))
    .map((line) => `${line} told as nothing`);
}

/** Facts that the worker said in the one-message form. */
function saidBefore(walked: Walked, at: number): readonly string[] {
  return walked.entries.flatMap((one) => (one.kind === 'sent' && one.at <= at && one.ask === null ? one.ids : []));
}

const list = (of: Case, field: string): readonly unknown[] | null => {
  const value = answersOf(of)[field];
  return Array.isArray(value) ? value : null;
};

const isOpen = (of: Case, field: string): boolean => list(of, field)?.includes('unknown') !== false;

const has = (of: Case, line: Line): boolean => lines[line].ids.some((id) => list(of, lines[line].field)?.includes(id));

/** Whoever reads that there is no suspicious look takes the lump for looked at: said of no more lumps than were. */
function looksDenied(of: Case, text: string): readonly string[] {
  const told = text.split(noLook).length - 1;
  if (told === 0) return [];
  const seen = nodulesOf(of).filter((id) => isSeen(of, id));
  return told > seen.length ? [`${told} lumps told without a look, ${seen.length} looked at`] : [];
}

/** All of a lump could be seen, with the probe that there is. */
function isSeen(of: Case, id: string): boolean {
  const hidden = ['echogenicity', 'margin', 'capsule'].some((field) => answersOf(of)[`${id}.${field}`] === 'unknown');
  return !hidden && !isOpen(of, `${id}.features`) && !isOpen(of, `${id}.foci`);
}

function factsDenied(of: Case, text: string): readonly string[] {
  const { examined, overactiveSigns } = answersOf(of);
  return [
    ...(text.includes(notFelt) && examined !== true ? ['not examined, told as not felt'] : []),
    ...(text.includes(notOveractive) && overactiveSigns !== 'no' && overactiveSigns !== false
      ? ['signs of an overactive thyroid not known, told as none']
      : []),
  ];
}
