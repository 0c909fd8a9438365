/** What the guide may have the line do: begin, let others play, end, or begin anew. */
import { post } from './ask-line.ts';
import { byId } from './dom.ts';
import { note } from './note.ts';
import type { TrainingActions } from './training.ts';
import type { Say } from './words.ts';

export interface PageDoings {
  /** Called after each answer, so that the page shows what came of it. */
  done(): Promise<void>;
  /** Patients of somebody's own lie on the phones: they are not thrown away unasked. */
  hasOwnPatients(): boolean;
}

/** `reset` asks back always, `begin` where something of one's own would go. */
export function trainingActions(say: Say, { done, hasOwnPatients }: PageDoings): TrainingActions & { reset(): void } {
  const ask = async (path: string, body: Readonly<Record<string, unknown>>): Promise<void> => {
    note('');
    const answer = await post(path, body);
    if (!answer.ok) note(answer.error ?? say('page-no-line'));
    await done();
  };
  return {
    begin: (id) => {
      const begin = (): void => void ask('/scenario/begin', { id });
      if (hasOwnPatients()) askBack(begin);
      else begin();
    },
    auto: (how) => void ask('/scenario/auto', how),
    end: () => void ask('/scenario/end', {}),
    reset: () => askBack(() => void ask('/reset', {})),
  };
}

/** Asks before everything is thrown away. */
function askBack(yes: () => void): void {
  const dialog = byId('ask-reset') as HTMLDialogElement;
  dialog.returnValue = '';
  dialog.addEventListener('close', () => dialog.returnValue === 'yes' && yes(), { once: true });
  dialog.showModal();
}
