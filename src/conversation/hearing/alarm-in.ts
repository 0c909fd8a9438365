/** Is this text an alarm? From its words alone: for the order of a queue, and for an answer where nothing else can be read. */
import type { AlarmWords } from './alarm-words.ts';
import { cryIn } from './cry.ts';
import { saysSos } from './sos-spelling.ts';

/** `sos`: the word; `now`: plain words of suffocation, choking, swelling, collapse or a fit. */
export type Alarm = 'sos' | 'now';

/** The alarm in a text, whoever sent it and whatever was asked; null = none. `languages`: `texts.alarmWords(locale or null for all)`. */
export function alarmIn(text: string, languages: readonly AlarmWords[]): Alarm | null {
  if (saysSos(text)) return 'sos';
  return cryIn(text, languages) === 'now' ? 'now' : null;
}
