import type { CheckRegistry } from '../content/check-registry.ts';
import { typicalText } from '../content/text-index.ts';
import { compileTemplate, renderTemplate } from '../text/render.ts';
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

/** What stands first in a text that is said by itself: of whom it is, or which question. */
const leads = ['tag', 'lead', 'patient', 'goesOn', 'q', 'code', 'codePlain'];

/**
 * The screens of a text as they read on a phone. One that no flow says and that names nobody is a part of others: what it puts
 * in is its own, whatever value of the line has the same name, and stays in braces.
 */
export function screensShown(written: Written, registry: CheckRegistry, isOfFlow: boolean): readonly ScreenShown[] {
  const template = compileTemplate(joined(written));
  const isPart = !isOfFlow && !template.placeholders.some((name) => leads.includes(name));
  const text = isPart ? renderTemplate(template, (name) => `{${name}}`) : typicalText(template, registry);
  return screensOf(text).map((words) => {
    const { encoding, units, segments } = countSegments(words);
    return { words, units, room: unitsAlone(encoding), segments };
  });
}
