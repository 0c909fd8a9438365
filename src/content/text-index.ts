import type { Flow, FlowState, FlowTransition } from '../conversation/flow.ts';
import type { Voice } from '../conversation/texts.ts';
import { compileTemplate, renderTemplate, type Template } from '../text/render.ts';
import type { CheckRegistry } from './check-registry.ts';
import type { LocaleFile } from './locale-file.ts';
import { baseKey, type Locale, voiceOfKey } from './texts.ts';
import type { Path } from './yaml-source.ts';

/** One text of one language, with its place. Plural forms and voices are entries of their own. */
export interface TextEntry {
  /** `file.key`, without voice and plural form. */
  readonly key: string;
  readonly voice: Voice;
  /** Key in its file, with voice and plural form. */
  readonly ownKey: string;
  readonly text: string;
  readonly template: Template;
  readonly file: LocaleFile;
}

const indexed = new WeakMap<Locale, ReadonlyMap<string, readonly TextEntry[]>>();

/** All texts of a language by `file.key`; made once of a language, which nobody changes: each opened line holds flows against them. */
export function indexTexts(locale: Locale): ReadonlyMap<string, readonly TextEntry[]> {
  const known = indexed.get(locale) ?? made(locale);
  indexed.set(locale, known);
  return known;
}

function made(locale: Locale): ReadonlyMap<string, readonly TextEntry[]> {
  const index = new Map<string, TextEntry[]>();
  for (const file of locale.files) {
    for (const [ownKey, text] of file.texts) {
      const key = `${file.name}.${baseKey(ownKey)}`;
      const entry = { key, voice: voiceOfKey(ownKey), ownKey, text, template: compileTemplate(text), file };
      index.set(key, [...(index.get(key) ?? []), entry]);
    }
  }
  return index;
}

/** The text with values of usual width put in: the registry's samples, six characters where it has none. */
export function typicalText(template: Template, registry: CheckRegistry): string {
  return renderTemplate(template, (name) => registry.samples?.get(name) ?? 'xxxxxx');
}

/** A place in a flow that needs a text. */
export interface TextUse {
  readonly key: string;
  readonly path: Path;
}

/** Every text that a flow names, and the doctor's text of every question it opens. */
export function textUses(flow: Flow): readonly TextUse[] {
  const uses: TextUse[] = [...flow.anywhere].flatMap(([key, one]) => usesOf(one, ['anywhere', key]));
  for (const state of flow.states.values()) {
    const at = ['states', state.name];
    uses.push(...usesOf(state, at));
    if (state.ask) uses.push({ key: state.text, path: [...at, 'text'] });
    for (const [key, one] of state.transitions) uses.push(...usesOf(one, [...at, 'transitions', key]));
  }
  return uses;
}

function usesOf(holder: FlowState | FlowTransition, at: Path): readonly TextUse[] {
  return [
    ...holder.say.map((key) => ({ key, path: [...at, 'say'] })),
    ...holder.notify.map((one) => ({ key: one.text, path: [...at, 'notify'] })),
    ...(holder.question ? [{ key: `doctor.${holder.question.about}`, path: [...at, 'question', 'about'] }] : []),
  ];
}
