/** A text at its place on the whole line, with its store: the same must come back as from the pure step. */
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { readLine } from '../../../src/channels/play/script.ts';
import { Player } from '../../../src/cli/player.ts';
import { registry } from '../../../src/conversation/matters.ts';
import { openKeyRing } from '../../../src/store/keys.ts';
import { openStore } from '../../../src/store/open.ts';
import { countSegments } from '../../../src/text/segments.ts';
import { shipped } from '../../support/shipped.ts';
import { repliesOf } from './outcome.ts';
import { heardAt, type Place } from './places.ts';

/** Drawn digits and the time of the day differ between two lines. */
const alike = (text: string): string => text.replace(/\d+/g, '#');

/** Why the whole line answered another thing than the pure step at this place; null: it did not. */
export async function differs(script: string, place: Place, text: string): Promise<string | null> {
  const folder = mkdtempSync(join(tmpdir(), 'neckline-corpus-'));
  const file = join(folder, 'play.db');
  const keys = openKeyRing(`${file}.key`);
  const out: { readonly phone: string; readonly text: string; readonly name: string }[] = [];
  const failed: string[] = [];
  const player = new Player({
    content: shipped,
    registry,
    log: { write: (level, event) => void (level === 'error' && failed.push(event)) },
    countSegments,
    open: (dueAtOf) => openStore({ url: `sqlite:${file}`, keys, dueAtOf, exclusive: false }),
    emit: (played) => {
      if (played.kind === 'failed') failed.push(played.failed);
      if (played.kind !== 'message' || played.message.dir !== 'out') return;
      const { phone, flow, step } = played.message;
      out.push({ phone, text: played.message.text, name: flow === '-' ? `doctor.${step}` : `${flow}.${step}` });
    },
  });
  try {
    let phone = '';
    for (const raw of readFileSync(script, 'utf8').split('\n')) {
      const before = out.length;
      await player.play(readLine(raw));
      phone = out.slice(before).find((one) => one.name === place.name)?.phone ?? '';
      if (phone !== '') break;
    }
    const before = out.length;
    await player.play(readLine('wait 1m'));
    const waited = out.length;
    if (waited > before) return null;
    await player.play({ kind: 'send', name: phone, text, agoMs: 0, forged: false });
    if (failed.length > 0) return `${place.name}: ${text}: ${failed.join(', ')}`;
    const got = out.slice(waited).filter((one) => one.phone === phone);
    const wanted = repliesOf(place, heardAt(place, text));
    const missing = wanted.find((one) => !got.some((other) => alike(other.text) === alike(one.text)));
    if (!missing) return null;
    return `${place.name}: ${text}: no "${missing.text}" but "${got.map((one) => one.text).join(' | ')}"`;
  } finally {
    await player.close();
    rmSync(folder, { recursive: true, force: true });
  }
}
