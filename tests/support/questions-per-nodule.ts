import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { readLine } from '../../src/channels/play/script.ts';
import { type PlayedMessage, Player } from '../../src/cli/player.ts';
import { dueAtOf } from '../../src/conversation/duties.ts';
import { registry } from '../../src/conversation/matters.ts';
import { keyRingOf } from '../../src/store/keys.ts';
import { openStore } from '../../src/store/open.ts';
import { countSegments } from '../../src/text/segments.ts';
import { rows } from '../published/nodule-rows.ts';
import { shipped } from './shipped.ts';

export interface Asked {
  readonly nodule: string;
  readonly mm: number;
  /** Questions about the nodule after its size. */
  readonly questions: number;
  readonly fields: readonly string[];
  readonly decision: string;
}

/** What a worker sends who sees this nodule. */
function answerTo(field: string, words: readonly string[]): string {
  const has = (word: string): boolean => words.includes(word);
  switch (field) {
    case 'composition':
      if (has('cyst')) return '1';
      if (has('sponge') || has('mostly-sponge')) return '2';
      return has('mixed') ? '3' : has('solid') ? '4' : '5';
    case 'spongiformWhole':
      return has('sponge') ? '6' : '7';
    case 'eccentric':
      return has('eccentric') ? 'Y' : 'N';
    case 'solidPartMm':
      return '9';
    case 'rimExtrusion':
      return '2';
    case 'foci':
      return digitsOf(has, { tiny: '6', coarse: '7', rim: '8' }) || '30';
    default:
      return digitsOf(has, { hypo: '1', vhypo: '2', tall: '3', lobed: '4', breaks: '5' }) || '0';
  }
}

function digitsOf(has: (word: string) => boolean, digits: Readonly<Record<string, string>>): string {
  return Object.entries(digits)
    .filter(([word]) => has(word))
    .map(([, digit]) => digit)
    .join('');
}

/** Takes each nodule of the published comparison through the real conversation and counts the questions about it. */
export async function questionsPerNodule(): Promise<readonly Asked[]> {
  const folder = mkdtempSync(join(tmpdir(), 'neckline-questions-'));
  const content = shipped;
  const asked: Asked[] = [];
  try {
    for (const [index, [look, mm]] of rows.entries()) {
      let last: PlayedMessage | null = null;
      const player = new Player({
        content,
        registry,
        log: { write: () => undefined },
        countSegments,
        open: (due) =>
          openStore({
            url: `sqlite:${join(folder, `${index}.db`)}`,
            keys: keyRingOf(new Uint8Array(32).fill(1)),
            dueAtOf: (of) => due(of) ?? dueAtOf(content.programme, of),
            exclusive: false,
          }),
        emit: (played) => {
          if (played.kind === 'message' && played.message.dir === 'out') last = played.message;
        },
      });
      const send = async (text: string): Promise<PlayedMessage> => {
        await player.play(readLine(`w> ${text}`));
        return last!;
      };
      await player.play(readLine('phone w +000555010001 role=worker'));
      for (const text of ['NEW', 'AK 1982 F', '60', '70', '80', '0', '40', '1', '5', '1']) await send(text);
      const fields: string[] = [];
      // With its unit, since 4 could be meant in cm.
      let message = await send(`R ${mm}x${mm}x${mm} mm`);
      while (message.step !== 'check') {
        const field = message.ask?.field ?? '';
        if (field === '' || fields.includes(field)) throw new Error(`${look}, ${mm} mm: ${message.text}`);
        fields.push(field);
        message = await send(answerTo(field, look.split(' ')));
      }
      await send('OK');
      const store = await player.store();
      const cases = await store.messages({ personId: 'person-w' });
      const words = cases.map((one) => one.text).join('\n');
      const decision =
        /(SAMPLE ELSEWHERE|needle ADVISED|needle is OPTIONAL|NO NEEDLE NOW|NO NEEDLE|CANNOT BE SETTLED)/.exec(
          words,
        )?.[1] ?? '-';
      asked.push({ nodule: look, mm, questions: fields.length, fields, decision });
      await player.close();
    }
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
  return asked;
}
