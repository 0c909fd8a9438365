import type { Case } from '../../../src/case/case.ts';
import type { Entry, Sent } from '../transcript.ts';
import type { Invariant } from './invariant.ts';
import { answersOf } from './invariant.ts';

const facts = new Set([
  ...['stridor', 'breathless', 'voice-change', 'swallowing', 'rapid-growth', 'hard', 'fixed', 'hard-or-fixed'],
  ...['neck-nodes', 'pulsates', 'family-medullary', 'family-thyroid-cancer', 'neck-irradiation', 'pet-focus'],
  ...['warfarin', 'antiplatelet', 'oral-anticoagulant', 'heparin', 'iv-antiplatelet', 'bleeding-disorder'],
]);
const lists = ['dangerSigns', 'risks', 'bleeding', 'lump'];

/** Every sign, risk and medicine that a worker said is in the record when it is decided. */
export const recordAsSaid: Invariant = {
  name: 'every sign, risk and medicine that was said is in the record when it is decided',
  broken: (walked) => {
    const breaches: string[] = [];
    const said = new Map<string, Sent>();
    for (const entry of walked.entries) {
      if (entry.kind === 'sent' && (entry.slip === 'none' || entry.slip === 'doubled')) listen(said, entry);
      // Another day's questions begin: what was said before is asked anew.
      if (isAskedAnew(entry)) said.clear();
      if (entry.kind !== 'recorded' || entry.record.event.type !== 'decided' || entry.caseId !== walked.of.id) continue;
      for (const [id, by] of said) {
        if (!isIn(entry.after, id)) breaches.push(`${id} was said ("${by.text}") and is not in the record`);
      }
    }
    return [...new Set(breaches)];
  },
};

/** What is said to a question again takes the place of what was said to it before. */
function listen(said: Map<string, Sent>, sent: Sent): void {
  for (const { id } of sent.ask?.options ?? []) said.delete(id);
  // What is fixed at the side of the neck is a node, and is written down as one.
  if (sent.ask?.field === 'fixedLump' && sent.ids.includes('node')) said.delete('fixed');
  // Sent twice, and perhaps taken back by its second half.
  if (sent.slip !== 'none') return;
  for (const id of sent.ids) if (facts.has(id) && isOfFindings(sent)) said.set(id, sent);
}

/** A quick text, or an answer to a question about the patient; an alarm has words of its own. */
const isOfFindings = ({ ask, askStep }: Sent): boolean => ask === null || /^(new|decision|ready)\./.test(askStep);

const isAskedAnew = (entry: Entry): boolean =>
  entry.kind === 'recorded' &&
  entry.record.event.type === 'answered' &&
  entry.record.event.field === 'dangerSigns' &&
  entry.record.event.value === null;

function isIn(of: Case, id: string): boolean {
  const answers = answersOf(of);
  const all = lists.flatMap((field) => {
    const value = answers[field];
    return Array.isArray(value) ? value : [];
  });
  const wide = id === 'hard' || id === 'fixed' ? ['hard-or-fixed'] : [];
  const parts = id === 'hard-or-fixed' ? ['hard', 'fixed'] : [];
  return [id, ...wide, ...parts].some((one) => all.includes(one));
}
