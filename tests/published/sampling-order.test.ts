import { describe, expect, it } from 'vitest';
import { shipped } from '../support/shipped.ts';

/*
 * The order of the acts, as the sources have it, read in the briefing itself. Suction is pulled only inside the nodule and
 * released before the needle leaves it (IARC Atlas of breast cancer early detection, FNAC; Manual for Cytology; Endotext
 * FNA figure 2); the tip touches the glass against splashes (IARC Atlas); slides are laid out first (Thyroidmanager
 * figure 3). Each act by the words that order it.
 */
const acts = {
  'open-fixative': /\{jarOpen\}/i,
  'lay-out-slides': /lay the slides out|\{jarOpen\}/i,
  'patient-still': /tell the patient not to speak, swallow or move/i,
  'hold-nodule': /hold it (with|by)|keep the probe on it/i,
  enter: /put the needle in\b/i,
  'pull-plunger': /(then|now) pull the plunger|say pull to the helper/i,
  strokes: /move (?:it|the needle) up and down/i,
  'release-plunger': /let the plunger go|the helper lets go/i,
  withdraw: /take the needle out/i,
  press: /\bpress(?:es)? (?:the place )?with gauze/im,
  'air-into-syringe': /take the needle off, draw air|OUT of the neck, put the air syringe on it/i,
  'expel-tip-on-glass': /touch the slide with the tip/i,
  smear: /pull (?:them )?apart/i,
  'fix-at-once': /\{fixNow\}/i,
  'needle-to-sharps-box': /sharps box/i,
} as const;
type Act = keyof typeof acts;

const techniques = ['capillary', 'holder', 'second-operator', 'improvised-holder'] as const;

/** The acts of a briefing in the order of its words. */
function actsOf(words: string): readonly Act[] {
  return (Object.keys(acts) as Act[])
    .map((act) => [act, words.search(acts[act])] as const)
    .filter(([, place]) => place >= 0)
    .sort(([, one], [, other]) => one - other)
    .map(([act]) => act);
}

/** Ways in which the lump is held: with the hand, or with the probe where no hand feels it. */
const holds = ['hold-two-fingers', 'hold-thumb', 'hold-probe'] as const;

/** The briefing of a technique as the flow says it, the lump held in one way, other values still as placeholders. */
function briefing(technique: string, hold: (typeof holds)[number] = 'hold-two-fingers'): string {
  const { flow } = shipped.sources.flows.find((source) => source.flow.name === 'sampling')!;
  const said = flow.states.get('begin' as never)!.transitions.get(technique)!.say;
  const held = shipped.texts.render('en', `sampling.${hold}`, () => '');
  const value = (name: string) => (name === 'hold' ? held : `{${name}}`);
  return said.map((key) => shipped.texts.render('en', key, value)).join('\n');
}

/** Every rule of order that a list of acts breaks. */
function faultsOf(done: readonly Act[]): readonly string[] {
  const inOrder = (...wanted: Act[]): boolean =>
    wanted.every((act, n) => done.includes(act) && (n === 0 || done.indexOf(act) > done.indexOf(wanted[n - 1]!)));
  const rules: Readonly<Record<string, boolean>> = {
    'the fixative is open and the slides lie ready before the needle': inOrder(
      'open-fixative',
      'lay-out-slides',
      'enter',
    ),
    'the patient is still and the lump held before the needle': inOrder('patient-still', 'hold-nodule', 'enter'),
    'nothing is pulled outside the lump': !done.includes('pull-plunger') || inOrder('enter', 'pull-plunger', 'strokes'),
    'suction is released before the needle is out':
      !done.includes('pull-plunger') || inOrder('pull-plunger', 'release-plunger', 'withdraw'),
    'the needle is out before pressing': inOrder('strokes', 'withdraw', 'press'),
    'there is air before the sample is pushed out': inOrder('withdraw', 'air-into-syringe', 'expel-tip-on-glass'),
    'the smear is fixed right after it is made':
      inOrder('expel-tip-on-glass', 'smear', 'fix-at-once') &&
      done.indexOf('fix-at-once') === done.indexOf('smear') + 1,
  };
  return Object.entries(rules).flatMap(([rule, kept]) => (kept ? [] : [rule]));
}

describe('order of sampling', () => {
  it.each(techniques.flatMap((technique) => holds.map((hold) => [technique, hold] as const)))(
    'the briefing for %s, %s, keeps every rule of order',
    (technique, hold) => {
      expect(faultsOf(actsOf(briefing(technique, hold)))).toEqual([]);
    },
  );

  it.each<[Act, Act, RegExp]>([
    ['release-plunger', 'withdraw', /released before/],
    ['enter', 'pull-plunger', /outside the lump/],
    ['expel-tip-on-glass', 'smear', /right after/],
    ['fix-at-once', 'needle-to-sharps-box', /right after/],
    ['open-fixative', 'enter', /fixative is open/],
  ])('%s exchanged with %s breaks a rule', (one, other, rule) => {
    const done = actsOf(briefing('holder'));
    const exchanged = done.map((act) => (act === one ? other : act === other ? one : act));
    expect(faultsOf(exchanged).join()).toMatch(rule);
  });

  it('suction that is never released breaks a rule', () => {
    const done = actsOf(briefing('holder')).filter((act) => act !== 'release-plunger');
    expect(faultsOf(done)).toEqual(['suction is released before the needle is out']);
  });

  it('the capillary way pulls no plunger, every other way does', () => {
    const pulling = techniques.filter((technique) => actsOf(briefing(technique)).includes('pull-plunger'));
    expect(pulling).toEqual(['holder', 'second-operator', 'improvised-holder']);
  });
});
