/** What a change of the answers means for patients who are on the line already: said before it is written. */
import type { Programme } from '../conversation/programme.ts';
import type { Answers } from './answers.ts';

/** One sentence for each change that reaches open cases; the whole of it stands in deploy/programme.md. */
export function cautionsOf(before: Programme, { programme, clinics }: Answers): readonly string[] {
  const cautions: string[] = [];
  if (before.id !== programme.id) {
    cautions.push(
      `programme.id was ${before.id}: people and patients are kept under it, and the line will see none of them under ${programme.id}.`,
    );
  }
  for (const { id, labId } of before.sites) {
    const now = clinics.find((one) => one.id === id);
    if (!now) {
      cautions.push(
        `The clinic ${id} is left out: close its cases first, or they go on with the laboratory and the hours of ${clinics[0]!.id}.`,
      );
    } else if (now.laboratory !== labId) {
      cautions.push(
        `${id} sends to ${now.laboratory} from now on: parcels on their way to ${labId} stay its own, but stand in the LIST of ${now.laboratory}.`,
      );
    }
  }
  return cautions;
}
