import type { CheckRegistry } from '../content/check-registry.ts';
import { typicalText } from '../content/text-index.ts';
import { compileTemplate } from '../text/render.ts';
import { screensOf } from '../text/screens.ts';
import { countSegments, unitsAlone } from '../text/segments.ts';
import type { Written } from './entry.ts';
import { joined } from './losses.ts';

/** One screen of a phone, usual values put in. */
export interface ScreenShown {
  readonly words: string;
  readonly units: number;
  /** What one message has room for, in the same units. */
  readonly room: number;
  readonly segments: number;
}

/** The screens of a text as they read on a phone. */
export function screensShown(written: Written, registry: CheckRegistry): readonly ScreenShown[] {
  return screensOf(typicalText(compileTemplate(joined(written)), registry)).map((words) => {
    const { encoding, units, segments } = countSegments(words);
    return { words, units, room: unitsAlone(encoding), segments };
  });
}
