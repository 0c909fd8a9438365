import { describe, expect, it } from 'vitest';
import { RECHECK_MINUTES, SOS_EVENTS, type SosEvent } from '../../src/clinical/adverse-events.ts';
import type { TextKey } from '../../src/generated/text-keys.ts';
import { screensOf } from '../../src/text/screens.ts';
import { shipped } from '../support/shipped.ts';

interface FirstAid {
  readonly text: string;
  /** What is done, and the signs that send the patient to hospital, as the text has to say them. */
  readonly says: readonly RegExp[];
  readonly neverSays: readonly RegExp[];
}

const hospital = /hospital/i;
/*
 * First aid by its sources. Faint: AHA and Red Cross first aid 2019, presyncope; thyroid FNA complications (textbook
 * extract). Airway: the subtle signs are agitation, anxiety, trouble with breathing and discomfort out of proportion (Iliff
 * et al., Anaesthesia 2022;77:82-95). Pen mark, order of steps: our convention. Voice: 4 of 10,974, 1 to 2 days after, all
 * recovered within 6 months (PMID 16889495). Hiccup: no published case was found; first aid from memory. Needle-stick:
 * RCEM Learning; UK Department of Health. No drug doses, and no opening of the skin: that drill is for surgical wounds.
 */
const firstAid: { readonly [event in SosEvent]: FirstAid } = {
  faint: {
    text: 'sos.faint',
    says: [
      /^\{lead\}take the needle out/,
      /take the needle out\. Lay the patient \{faintLies\}\./,
      /put on a cold cloth/,
      /awake: cross the legs and squeeze them/,
      /the pulse and the blood pressure/,
      /Not better in 2 minutes, not awake, chest pain, or a fit/,
      hospital,
    ],
    neverSays: [/sit up/i],
  },
  'bleeding-or-swelling': {
    text: 'sos.bleeding',
    says: [
      /^\{lead\}press hard on the place\. Sit the patient up/,
      /cold pack/,
      /Mark the edge of the swelling with a pen/,
      /If it grows, go to hospital NOW/,
      /restless/,
      /cannot swallow spit/,
      /muffled voice/,
      /blue lips/,
      hospital,
    ],
    neverSays: [/flat/i],
  },
  breathing: {
    text: 'sos.breathing',
    says: [
      /^\{lead\}sit the patient up/,
      /If the neck swells, press on it/,
      /oxygen if you have it/,
      /Do not leave the patient alone/,
      /\{hospital\} NOW/,
    ],
    neverSays: [/flat/i],
  },
  'voice-change': {
    text: 'sos.voice-change',
    says: [
      /^\{lead\}put in no more needles on this side/,
      /sit the patient up to drink/,
      /Look for swelling/,
      /breathing is noisy, or the patient chokes or swells/,
      /larynx/,
      hospital,
    ],
    neverSays: [/flat/i],
  },
  hiccup: {
    text: 'sos.hiccup',
    says: [
      /^\{lead\}take the needle out/,
      /hold the breath/,
      /sips of water only if the voice is normal/,
      /short of breath; has chest pain; or if it lasts over 48 hours/,
      hospital,
    ],
    neverSays: [],
  },
  'needle-stick': {
    text: 'sos.needle-stick',
    says: [
      /^\{lead\}who was pricked washes the place NOW, with soap and running water/,
      /Let it bleed\. Do not squeeze, scrub or suck/,
      /in an eye or in the mouth: rinse/,
      /Somebody else must judge it today/,
    ],
    neverSays: [],
  },
  other: {
    text: 'sos.other',
    says: [
      /^\{lead\}take the needle out\. Press on the place\. Stay with the patient/,
      /the emergency protocol of your clinic/,
      /If the patient does not wake or breathes hard: go to hospital NOW/,
      /NOW too if there is an allergy or chest pain/,
      hospital,
    ],
    neverSays: [],
  },
};

const words = (key: string): string => shipped.texts.render('en', key as TextKey, (name) => `{${name}}`);

describe('first aid', () => {
  it('offers seven choices, so that each has a digit from 1 to 7', () => {
    expect(SOS_EVENTS).toHaveLength(7);
  });

  it.each(SOS_EVENTS)('of %s says what is done and what sends the patient to hospital', (event) => {
    const { text, says, neverSays } = firstAid[event];
    for (const form of says) expect(words(text)).toMatch(form);
    for (const form of neverSays) expect(words(text)).not.toMatch(form);
  });

  it('before the sign is known lays a faint flat and sits a swelling and hard breathing up', () => {
    expect(words('sos.first-aid')).toMatch(
      /Take the needle out\. FAINT: lay the patient \{faintLies\}\. BLEEDING or SWELLING: press, sit up\. HARD BREATHING: sit up, go to hospital NOW/,
    );
  });

  it('before the sign is known needs one screen for what saves the life', () => {
    const [first] = screensOf(words('sos.first-aid'));
    for (const sign of ['FAINT', 'BLEEDING or SWELLING', 'HARD BREATHING']) expect(first).toContain(sign);
  });

  it('asks for the sign on two screens, the dangers to life on the first, at most six on one', () => {
    const shown = screensOf(words('sos.sign')).map((screen) => screen.match(/\d/g));
    expect(shown).toEqual([
      ['1', '2', '3'],
      ['4', '5', '6', '7'],
    ]);
  });

  it('of whoever is not on the line, or whose record does not open, lays a pregnant woman on the left side', () => {
    for (const key of ['common.stranger-first-aid', 'aside.first-aid']) {
      const [first, second] = screensOf(words(key));
      expect(first).toMatch(
        /needle .* take it out\. BLEEDING or SWELLING: press .* HARD BREATHING: sit up, go to hospital NOW/,
      );
      expect(second).toMatch(/FAINT: lay the patient flat, legs up; if she is pregnant, on the LEFT side/);
    }
  });

  // Caval compression from about 20 weeks on: turned fully left, never on the back (resus.me; anaesthesia textbook).
  it('lays a faint flat, and late in pregnancy on the left side', () => {
    expect(words('sos.lies-flat')).toBe('flat, legs up');
    expect(words('sos.lies-left')).toBe('on the LEFT side, not flat');
  });

  it.each(SOS_EVENTS)('of %s gives no dose and opens no skin', (event) => {
    expect(words(firstAid[event].text)).not.toMatch(
      /\b\d+ ?(mg|mcg|ml|units?)\b|\bcut\b|stitch|open the (wound|neck)/i,
    );
  });
});

describe('how the patient is', () => {
  it.each<[SosEvent, readonly number[]]>([
    ['faint', [2, 5]],
    ['bleeding-or-swelling', [5, 15, 30, 60]],
    ['breathing', [2, 5, 10]],
    ['voice-change', [15, 60]],
    ['hiccup', [15]],
    ['needle-stick', [60]],
    ['other', [5, 15]],
  ])('is asked again after %s at growing times', (event, minutes) => {
    expect(RECHECK_MINUTES[event]).toEqual(minutes);
    expect([...minutes].sort((one, other) => one - other)).toEqual(minutes);
  });
});
