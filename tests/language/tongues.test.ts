/**
 * The shipped languages: scripts of the conversations played in English and in each of them side by side, with that language's own
 * words typed. What is asked, of whom and with which answers, and every figure that people are told are the same.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { readLine } from '../../src/channels/play/script.ts';
import type { PlayedMessage } from '../../src/cli/player.ts';
import { loadContent } from '../../src/content/load.ts';
import type { Locale } from '../../src/content/texts.ts';
import { isGsm7 } from '../../src/text/gsm7.ts';
import { countSegments, fitsScreen } from '../../src/text/segments.ts';
import { soak } from '../support/runs.ts';
import { type PlayedInStep, playInStep } from './in-step.ts';

const folder = new URL('../conversations/', import.meta.url).pathname;
const content = loadContent();
const script = (name: string): string => readFileSync(`${folder}${name}.play`, 'utf8');

/** A straight case, one with blood, an emergency and a result; a soak plays all conversations. */
const always = ['straight', 'blood-then-success', 'outcome-emergency-now', 'thy5'];
const all = readdirSync(folder).flatMap((name) => (name.endsWith('.play') ? [name.replace('.play', '')] : []));
/** Not played: people type words of English there, which the corpus of each language holds for its own; or draws follow no order. */
const outOfStep: Readonly<Record<string, string>> = {
  'beating-told-to-the-doctor': 'signs in words of everyday in a quick text',
  'cry-in-plain-words': 'cries',
  'cry-that-may-be-one': 'words that may be a cry',
  'initials-that-are-a-command': 'initials that are a command in English',
  'label-in-the-laboratorys-language': 'a laboratory that goes on in French, with its name in its own language',
  'own-text-is-no-question': 'a text of the line, sent back in English',
  'stop-of-the-last-one': 'numbers drawn while two phones are asked for two hours',
};
const scripts = soak ? all.filter((one) => !Object.hasOwn(outOfStep, one)) : always;
const tongues = content.sources.locales.filter(({ tag }) => tag !== 'en');

/** Whoever was taken off the list is a stranger from then on. */
const notOnTheList = 'This line is for clinics, and this number is not on its list.';

/** Phones that are on no roster: which language they read is not known, and they are answered in that of the programme. */
const strangersOf = (name: string): ReadonlySet<string> => {
  const phones = script(name).split('\n').map(readLine);
  return new Set(phones.flatMap((one) => (one.kind === 'phone' && one.roles.length === 0 ? [one.name] : [])));
};

/** CASE and MORE show what there is of a case on as many parts as it takes, and the language says why others may be longer. */
function mayBeLong({ step }: PlayedMessage, locale: Locale): boolean {
  const [name, key] = [step.slice(0, step.indexOf('.')), step.slice(step.indexOf('.') + 1)];
  return step.startsWith('desk.case') || Object.hasOwn(locale.files.find((one) => one.name === name)?.long ?? {}, key);
}

/** What is wrong with how the texts are written. */
function written({ received }: PlayedInStep, locale: Locale, strangers: ReadonlySet<string>): readonly string[] {
  const isPlainGsm = locale.meta?.alphabet !== 'UCS-2';
  return received.flatMap(({ line, english, other }) => {
    const said = new Set(english.map(({ text }) => text));
    return other.flatMap((message) => {
      const { text } = message;
      if (strangers.has(message.phone) || text.startsWith(notOnTheList)) return [];
      const faults = [
        ...(fitsScreen(text) || mayBeLong(message, locale) || english.some((one) => !fitsScreen(one.text))
          ? []
          : [`${countSegments(text).units} signs`]),
        ...(isPlainGsm && !isGsm7(text) ? ['another alphabet'] : []),
        ...(/[{}]|undefined|null| {2}/u.test(text) ? ['a value without words'] : []),
        ...(said.has(text) && /(?:\p{Ll}{3,} ){3}/u.test(text) ? ['English'] : []),
      ];
      return faults.map((fault) => `${fault} after ${line}: ${text}`);
    });
  });
}

describe.each(tongues.map((locale) => ({ tag: locale.tag, locale })))('in $tag', ({ tag, locale }) => {
  it.each(scripts)('%s: the same is asked, and told in every figure', async (name) => {
    const played = await playInStep(script(name), content, () => tag);
    expect(played.failures).toEqual([]);
    expect(played.received.length).toBeGreaterThan(0);
    expect(written(played, locale, strangersOf(name))).toEqual([]);
  });
});

it('a worker, a doctor and a laboratory of three languages lead one case', async () => {
  const [one, two, three] = ['fr', 'ar', 'sw'];
  for (const name of ['straight', 'thy5', 'ask-the-doctor']) {
    const tongueOf = (phone: string) => (phone.startsWith('w') ? one! : phone.startsWith('d') ? two! : three!);
    const { failures } = await playInStep(script(name), content, tongueOf);
    expect(failures).toEqual([]);
  }
});
