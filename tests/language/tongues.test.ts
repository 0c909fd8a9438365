/**
 * The shipped languages: scripts of the conversations played in English and in each of them side by side, with that language's own
 * words typed. What is asked, of whom and with which answers, and every figure that people are told are the same.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { loadContent } from '../../src/content/load.ts';
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
const scripts = soak ? all : always;
const tongues = content.sources.locales.filter(({ tag }) => tag !== 'en');

/** What is wrong with how the texts are written. */
function written({ received }: PlayedInStep, isPlainGsm: boolean): readonly string[] {
  return received.flatMap(({ line, english, other }) => {
    const said = new Set(english.map(({ text }) => text));
    return other.flatMap(({ text }) => {
      const faults = [
        ...(fitsScreen(text) || english.some((one) => !fitsScreen(one.text))
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

describe.each(tongues.map(({ tag, meta }) => ({ tag, alphabet: meta?.alphabet })))('in $tag', ({ tag, alphabet }) => {
  it.each(scripts)('%s: the same is asked, and told in every figure', async (name) => {
    const played = await playInStep(script(name), content, () => tag);
    expect(played.failures).toEqual([]);
    expect(played.received.length).toBeGreaterThan(0);
    expect(written(played, alphabet !== 'UCS-2')).toEqual([]);
  });
});

it.skipIf(tongues.length === 0)('a worker, a doctor and a laboratory of three languages lead one case', async () => {
  const [one, two, three] = ['fr', 'ar', 'sw'];
  for (const name of ['straight', 'thy5', 'ask-the-doctor']) {
    const tongueOf = (phone: string) => (phone.startsWith('w') ? one! : phone.startsWith('d') ? two! : three!);
    const { failures } = await playInStep(script(name), content, tongueOf);
    expect(failures).toEqual([]);
  }
});
