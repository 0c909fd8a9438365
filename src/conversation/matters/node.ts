/** A neck node: what has to be known before its needle, and what came out. */
import { answerOf } from '../../case/case.ts';
import { type Aim, aimsOf } from '../../case/target.ts';
import type { Proposed } from '../../clinical/proposed.ts';
import { type Act, type Matter, type Moment, record } from '../moment.ts';
import { laboratoryOf, siteOf } from '../programme.ts';
import { textAnswer } from './common.ts';

function nodeAims(moment: Moment): readonly Aim[] {
  return aimsOf(moment.case!).filter((one) => one.kind === 'node');
}

/** Whether ultrasound was there, and shows the needle on its way at this clinic. */
function isGuidedHere(moment: Moment): boolean {
  const scanned = answerOf(moment.case!, 'ultrasound.done') === true;
  return scanned && siteOf(moment.world.programme, moment.case!.siteId).guidance;
}

/** The next thing to know about a node that is proposed, with the item that it is asked of. */
function nextOfNode(moment: Moment): { readonly outcome: string; readonly item: string | null } {
  const of = moment.case!;
  const aims = nodeAims(moment);
  // Found so on an earlier day, and proposed anew: the hospital looks at it first, as the clinic was told.
  const beats = aims.find((one) => ['beats', 'unknown'].includes(textAnswer(moment, 'node-pulse', one.item)));
  if (beats) return { outcome: 'beats', item: beats.item };
  const blind = aims.find((one) => textAnswer(moment, 'level', one.item) === 'low' && !isGuidedHere(moment));
  if (blind) return { outcome: 'blind', item: blind.item };
  const nowhere = aims.find((one) => answerOf(of, 'level', one.item) === undefined);
  if (nowhere) return { outcome: 'which-level', item: nowhere.item };
  const unfelt = aims.find((one) => answerOf(of, 'node-pulse', one.item) !== 'still');
  if (unfelt) return { outcome: 'pulse', item: unfelt.item };
  const asked = aims.length === 0 || answerOf(of, 'node-pot') !== undefined;
  return { outcome: asked ? 'known' : 'pot', item: null };
}

/** This node gets no needle here: it is proposed no more. With nothing left to sample the case is the hospital's. */
function nodeNotNeedled(moment: Moment): readonly Act[] {
  const before = moment.case!.decided;
  if (!before) return [];
  const { at: _at, ...rest } = before;
  const aims = aimsOf(moment.case!);
  const proposed: readonly Proposed[] = before.proposed.filter((_, place) => aims[place]?.item !== moment.frame.item);
  const kept = record({ type: 'decided', ...rest, proposed });
  if (proposed.length > 0) return [kept];
  return [
    kept,
    record({ type: 'answered', field: 'go-ahead', item: null, value: null }),
    record({ type: 'not-sampled', why: 'referred-urgently', reviewOn: null }),
  ];
}

/** A node is sampled with suction wherever there is a way to suck. */
export function isNodeHere(moment: Moment): boolean {
  return moment.specimen?.target.kind === 'node';
}

/** Pus, cheese or blood, and whether a pot comes along: what the laboratory reads of a node; '' of a lump. */
export function nodeNotes(moment: Moment): readonly string[] {
  const { specimen } = moment;
  if (specimen?.target.kind !== 'node') return [];
  const look = textAnswer(moment, 'node-look', specimen.id);
  const rest = textAnswer(moment, 'node-rest', specimen.id);
  const label = (field: string, id: string): string => moment.world.texts.label(moment.person.locale, field, id);
  const word = (key: 'node-look' | 'node-pot' | 'node-no-pot' | 'node-tube', value = ''): string =>
    moment.world.texts.render(moment.person.locale, `posting.${key}`, () => value);
  const seen = look === '' || look === 'unknown' ? [] : [word('node-look', label('node-look', look))];
  const tube = textAnswer(moment, 'node-tube', specimen.id) === 'filled' ? [word('node-tube')] : [];
  return [...seen, word(rest === 'flushed' ? 'node-pot' : 'node-no-pot'), ...tube];
}

export const node: Matter = {
  decisions: {
    'next-node': {
      outcomes: ['which-level', 'pulse', 'pot', 'known', 'beats', 'blind'],
      decide: (m) => {
        const { outcome, item } = nextOfNode(m);
        return { outcome, acts: [{ do: 'item', item }] };
      },
    },
    'node-guided': {
      outcomes: ['guided', 'blind'],
      decide: (m) => (isGuidedHere(m) ? 'guided' : 'blind'),
    },
    'left-to-needle': {
      outcomes: ['others', 'day-known', 'day-open'],
      decide: (m) => {
        if ((m.case!.decided?.proposed.length ?? 0) > 0) return 'others';
        return textAnswer(m, 'referral-day') === '' ? 'day-open' : 'day-known';
      },
    },
    'node-pot': {
      outcomes: ['pot', 'no-pot'],
      decide: (m) => (answerOf(m.case!, 'node-pot') === 'pot' ? 'pot' : 'no-pot'),
    },
    'lab-tests-thyroglobulin': {
      outcomes: ['yes', 'no'],
      decide: (m) => (laboratoryOf(m.world.programme, m.case!.siteId).assays.includes('thyroglobulin') ? 'yes' : 'no'),
    },
  },
  recorders: { 'node-not-needled': nodeNotNeedled },
};
