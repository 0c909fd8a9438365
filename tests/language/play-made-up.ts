import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { findExpected, withCaptured } from '../../src/channels/play/expectation.ts';
import { readLine, type ScriptLine } from '../../src/channels/play/script.ts';
import { Player } from '../../src/cli/player.ts';
import type { Content } from '../../src/content/load.ts';
import { registry } from '../../src/conversation/matters.ts';
import { openKeyRing } from '../../src/store/keys.ts';
import { openStore } from '../../src/store/open.ts';
import { countSegments } from '../../src/text/segments.ts';
import { madeUp, meant } from './made-up.ts';

export interface PlayedMadeUp {
  /** Expectations that the same texts in the made-up language do not meet, and errors that the line logged. */
  readonly failures: readonly string[];
  /** Texts that people of the roster received. The line does not know the language of anybody else. */
  readonly received: readonly string[];
  /** Texts that people sent. */
  readonly typed: readonly string[];
  /** How the people of the roster are called. */
  readonly names: readonly string[];
}

/** Plays the lines of a script of the conversations with phones of the made-up language; what it expects in English must be meant. */
export async function playMadeUp(script: string, content: Content): Promise<PlayedMadeUp> {
  const folder = mkdtempSync(join(tmpdir(), 'neckline-made-up-'));
  const file = join(folder, 'play.db');
  const keys = openKeyRing(`${file}.key`);
  const failures: string[] = [];
  const received: string[] = [];
  const typed: string[] = [];
  const names: string[] = [];
  /** What each phone received since the last line that acts. */
  let heard: { readonly phone: string; readonly text: string }[] = [];
  let captured: Readonly<Record<string, string>> = {};
  const toStranger = content.texts.render('en', 'common.stranger', () => content.programme.voiceNumber);
  const player = new Player({
    content,
    registry,
    log: { write: (level, event) => void (level === 'error' && failures.push(`logged ${event}`)) },
    countSegments,
    open: (dueAtOf) => openStore({ url: `sqlite:${file}`, keys, dueAtOf, exclusive: false }),
    emit: (played) => {
      if (played.kind !== 'message') {
        failures.push(JSON.stringify(played));
        return;
      }
      const { phone, dir, text } = played.message;
      if (dir === 'in') typed.push(text);
      else {
        if (names.includes(phone) && text !== toStranger) received.push(text);
        heard.push({ phone, text });
      }
    },
  });
  const expectIn = (line: ScriptLine & { kind: 'expect' }): void => {
    const texts = heard.filter((one) => one.phone === line.name).map((one) => meant(one.text));
    const pattern = withCaptured(line.pattern, captured);
    const { met, groups } = findExpected(pattern, texts);
    captured = { ...captured, ...groups };
    if (met !== line.wanted) failures.push(`${line.name}: ${pattern}; got: ${texts.join(' | ')}`);
  };
  try {
    for (const raw of script.split('\n')) {
      const line = readLine(raw);
      if (line.kind === 'expect') {
        expectIn(line);
        continue;
      }
      if (line.kind === 'phone' && line.roles.length > 0) names.push(line.name);
      if (line.kind !== 'phone' && line.kind !== 'nothing') heard = [];
      await player.play(
        line.kind === 'phone'
          ? { ...line, locale: madeUp }
          : line.kind === 'send'
            ? { ...line, text: withCaptured(line.text, captured) }
            : line,
      );
    }
    return { failures, received, typed, names };
  } finally {
    await player.close();
    rmSync(folder, { recursive: true, force: true });
  }
}
