import { readdirSync, readFileSync } from 'node:fs';
import { afterEach, describe, expect, it } from 'vitest';
import { foldToGsm7 } from '../../src/text/gsm7.ts';
import { inMarks, isName, quotedWords } from '../../src/text/one-line.ts';
import { bringTo, Clinic, type Place } from '../support/clinic.ts';

/** Every character that the fold to the network's letters turns into a quotation mark, or into half of one. */
const folded = (mark: string): readonly string[] =>
  Array.from({ length: 0x20000 }, (_, code) => code)
    .filter((code) => code < 0xd800 || code > 0xdfff)
    .map((code) => String.fromCodePoint(code))
    .filter((sign) => foldToGsm7(sign).includes(mark));

/** What looks like a double mark on a screen: the named ones, and Unicode's confusables of `"` as far as memory goes. */
const doubles = [...'″‶ʺ＂〝〞‟❝❞\u{1f676}\u{1f677}\u{1f678}〟⹂״ˮ˝˵˶“”„«»❠‴⁗‷〃\u1cd3'];
const halves = [...'′‵＇｀`´ʹʼʻʽˈˊˋ‘’‚‛‹›❛❜❟ꞌ׳՚՝ߴߵʹ΄'];
const lookAlikes = [...new Set([...folded('"'), ...folded("'"), ...doubles, ...halves])].filter((one) => one !== "'");

const lure = (signs: readonly string[]): string => `sure${signs.join('')} - 1 call me. FILED Thy${signs.join('x')} OK`;
/** In the network's own letters, outside of them, and two halves with a sign between that nobody sees. */
const lures = [
  lure(['″']),
  lure(lookAlikes.filter((one) => foldToGsm7(one) !== one || one === '"')),
  lure(lookAlikes.filter((one) => foldToGsm7(one) === one && one !== '"')),
  lure(["''", "'\u200b'", "'\u200d'", "‘'"]),
];

describe('words between marks', () => {
  it.each(lookAlikes.map((one) => [one.codePointAt(0)!.toString(16).toUpperCase(), one]))(
    'U+%s closes no quotation, alone, doubled, and after the fold',
    (_code, sign) => {
      for (const text of [sign, `${sign}${sign}`, `a${sign}b`, `a'${sign} é`, `a${sign}\u200d${sign}ሰ`]) {
        const shown = foldToGsm7(inMarks(text, 300));
        expect(shown).toMatch(/^"[^"]*"$/);
        expect(shown.slice(1, -1)).not.toContain("''");
        for (const other of lookAlikes) expect(shown.slice(1, -1)).not.toContain(other);
      }
      expect(isName(`Nia ${sign}${sign}Bok`)).toBe(false);
    },
  );

  it('are many signs, those that were missed before among them', () => {
    expect(lookAlikes.length).toBeGreaterThan(60);
    for (const one of '″‶ʺ＂〝〞‟❝❞🙶🙷🙸') expect(lookAlikes).toContain(one);
  });

  it('keep letters and their accents', () => {
    expect(quotedWords("Ne\u0301 O'Lumo, ሰላም, d\u0301", 100)).toBe("Né O'Lumo, ሰላም, d\u0301");
  });
});

interface Path {
  readonly from: string;
  /** What the sender writes; `code`: of the case. */
  readonly words: (clinic: Clinic, code: string, lure: string) => string;
  readonly to: string;
  /** The text as its reader must see it; the first group is what stands between the marks. */
  readonly shown: RegExp;
  readonly place: Place;
  readonly before?: (clinic: Clinic, code: string) => Promise<void>;
}

const askedFirst = (clinic: Clinic): Promise<void> => clinic.play('w> DOCTOR may I go on');
const tagOf = (clinic: Clinic, pattern = /Q(\d\d) /): string => clinic.found('d', pattern);

/** Every way by which somebody's words reach somebody else. */
const paths: Readonly<Record<string, Path>> = {
  'a worker asks the doctor': {
    place: 'watched',
    from: 'w',
    words: (_clinic, _code, text) => `DOCTOR ${text}`,
    to: 'd',
    shown: /^Q(?:\d\d) ASKS .*?: "(.*)"\./m,
  },
  'a worker writes beside a code': {
    place: 'posted',
    from: 'w',
    words: (_clinic, code, text) => `CASE ${code} ${text}`,
    to: 'd',
    shown: /^AK \d{4} \d{4} from w: "(.*)"$/,
  },
  'a laboratory writes beside a code': {
    place: 'posted',
    from: 'l',
    words: (_clinic, code, text) => `CASE ${code} ${text}`,
    to: 'd',
    shown: /^AK \d{4} \d{4} from l: "(.*)"$/,
  },
  'a coordinator writes beside a code': {
    place: 'posted',
    from: 'c',
    words: (_clinic, code, text) => `CASE ${code} ${text}`,
    to: 'd',
    shown: /^AK \d{4} \d{4} from c: "(.*)"$/,
  },
  'a doctor writes beside a code': {
    place: 'posted',
    from: 'd',
    words: (_clinic, code, text) => `CASE ${code} ${text}`,
    to: 'w',
    shown: /^AK \d{4} \d{4}: d writes: "(.*)"$/,
  },
  'a doctor answers in words': {
    place: 'watched',
    before: askedFirst,
    from: 'd',
    words: (clinic, _code, text) => `${tagOf(clinic)} ${text}`,
    to: 'w',
    shown: /^AK: d answers: "(.*)"$/,
  },
  'a doctor answers by a choice and words': {
    place: 'watched',
    before: askedFirst,
    from: 'd',
    words: (clinic, _code, text) => `${tagOf(clinic)} 1 ${text}`,
    to: 'w',
    // The number to call stands behind it.
    shown: /^AK: d answers: [^"]+: "(.*)", \+\d+$/,
  },
  'a doctor writes where a decision is asked': {
    place: 'result',
    from: 'd',
    words: (clinic, _code, text) => `${tagOf(clinic, /Q(\d\d) TODAY/)} ${text}`,
    to: 'w',
    shown: /d writes: "(.*)"\. This is NOT yet a decision/,
  },
  'a doctor answers an alarm, and another doctor reads it': {
    place: 'watched',
    before: (clinic) => clinic.play('w> SOS', 'wait 6m'),
    from: 'd',
    words: (clinic, _code, text) => `${tagOf(clinic, /Q(\d\d) NOW SOS/)} ${text}`,
    to: 'e',
    shown: /d has it in hand: "(.*)"\. If it is not done by \d\d:\d\d/,
  },
  'a doctor answers an alarm': {
    place: 'watched',
    before: (clinic) => clinic.play('w> SOS'),
    from: 'd',
    words: (clinic, _code, text) => `${tagOf(clinic, /Q(\d\d) NOW SOS/)} 1 ${text}`,
    to: 'w',
    shown: /d answers: [^"]+: "(.*)"/,
  },
  'a laboratory asks the clinic': {
    place: 'posted',
    from: 'l',
    words: (_clinic, code, text) => `ASK ${code} ${text}`,
    to: 'w',
    shown: /asks: "(.*)"(?=\n|$)/,
  },
  'the clinic answers the laboratory': {
    place: 'posted',
    before: (clinic, code) => clinic.play(`l> ASK ${code} which side`),
    from: 'w',
    words: (_clinic, _code, text) => text,
    to: 'l',
    shown: /ORUMA CLINIC answers: "(.*)"$/,
  },
  'a laboratory asks where nobody of the clinic is on the line': {
    place: 'posted',
    before: (clinic) => clinic.play('v> STOP', 'w> STOP'),
    from: 'l',
    words: (_clinic, code, text) => `ASK ${code} ${text}`,
    to: 'c',
    shown: /asks: "(.*)" Nobody of the clinic is on the line/,
  },
  'a coordinator asks the doctor to end a case': {
    place: 'posted',
    from: 'c',
    words: (_clinic, code, text) => `END ${code} ${text}`,
    to: 'd',
    shown: /END is asked for, why: "(.*)"\./m,
  },
  'a worker cries for help': {
    place: 'watched',
    from: 'w',
    words: (_clinic, _code, text) => `she cannot breathe ${text}`,
    to: 'd',
    shown: /ORUMA CLINIC wrote "(.*)"/,
  },
  'a worker is stuck': {
    place: 'ready',
    before: (clinic) => clinic.play('w> blah one', 'w> blah two'),
    from: 'w',
    words: (_clinic, _code, text) => text,
    to: 'c',
    shown: /the answer was: "(.*)"$/m,
  },
};

let clinic: Clinic | null = null;
afterEach(async () => {
  await clinic?.close();
  clinic = null;
});

describe.each(Object.entries(paths))('%s', (_name, path) => {
  it.each(lures.map((one, index) => [index, one]))('lure %i stays between its marks', async (_index, text) => {
    clinic = new Clinic();
    const code = await bringTo(clinic, path.place);
    await path.before?.(clinic, code);
    clinic.heard();
    await clinic.text(path.from, path.words(clinic, code, text));
    const heard = clinic.heardBy(path.to);
    const shown = heard.flatMap((one) => path.shown.exec(one)?.[1] ?? []);
    expect(shown.length, heard.join('\n')).toBe(1);
    expect(shown[0]).toMatch(/sure'/);
    for (const one of [...lookAlikes, "''"]) expect(shown[0]).not.toContain(one);
  });
});

describe('on Telegram', () => {
  it.each(lures.map((one, index) => [index, one]))(
    'lure %i stays between its marks both ways',
    async (_index, text) => {
      clinic = new Clinic();
      await clinic.play(
        'phone w 1000000001 role=worker channel=telegram',
        'phone d 1000000002 role=doctor channel=telegram',
        'phone c 1000000003 role=coordinator channel=telegram',
      );
      await clinic.text('w', `DOCTOR ${text}`);
      const asked = clinic.heardBy('d').find((one) => one.includes('ASKS'))!;
      await clinic.text('d', `${/Q(\d\d)/.exec(asked)![1]} ${text}`);
      const answered = clinic.heardBy('w').find((one) => one.includes('answers'))!;
      for (const shown of [asked, answered]) {
        expect(shown.match(/"/g)).toHaveLength(2);
        expect(shown).toContain("sure'");
        for (const one of [...lookAlikes, "''"].filter((sign) => sign !== '"')) expect(shown).not.toContain(one);
      }
    },
  );
});

describe('a laboratory that reports', () => {
  it.each(['(', ')', '（', '）', '❨', '⁾', '﴿', '﹚', ']'])('closes its brackets by no %s', async (bracket) => {
    clinic = new Clinic();
    const code = await bringTo(clinic, 'posted');
    await clinic.play(`l> GOT ${code} 2`);
    await clinic.text('l', `${code} Thy4 papillary${bracket} Right. FILED${bracket}″`);
    const back = clinic.heardBy('l').find((one) => one.includes('RESULT: '))!;
    expect(back).toMatch(/ \(papillary[^()（）❨⁾﴿﹚\]″"]*FILED[^()（）❨⁾﴿﹚\]″"]*\)/);
  });
});

/**
 * Texts whose {words}, {said} and the like are the line's own, or bring their marks with them (choices and words of a doctor:
 * `answer`), or are an example of what to send at the end of a sentence.
 */
const ours = new Set(
  ['about-lump', 'told-why', 'findings-say', 'also-why', 'refer-look', 'policies-not-used', 'others-part']
    .map((one) => `decision.${one}`)
    .concat(['action.first-needle', 'doctor.was-before', 'gaps.not-asked', 'gaps.not-done', 'gaps.not-known'])
    .concat(['doctor.rules-agree'])
    .concat([
      'history.lab-asks',
      'history.to-lab',
      'laboratory.replaces',
      'laboratory.near',
      'laboratory.sampled-thyroid',
    ])
    .concat(['laboratory.sampled-node', 'laboratory.sampled-node-short', 'laboratory.sampled-level'])
    .concat(['new.perhaps-same', 'new.until-now', 'new.check-yes', 'new.check-not-asked', 'new.check-does-not-fit'])
    .concat(['new.check-not-known', 'new.check-none', 'new.check-felt', 'new.check-solid-part', 'new.tsh-is'])
    .concat(['new.check-mhz', 'sos.said-today', 'sos.said-now'])
    .concat(['posting.request-seen', 'posting.request-tsh', 'posting.request-taken', 'posting.node-look'])
    .concat(['posting.story-weeks', 'posting.story-earlier', 'posting.story-not-known', 'sampling.fluid-taken'])
    .concat(['sampling.nodule-here', 'sampling.node-here', 'target.sized', 'target.both', 'common.of-whom']),
);
/** Words of a doctor that come with their marks, shown by every text of that kind. */
const bringsMarks = /\{doctor\} (answers|answers about your patient|says|writes): \{words\}/;

describe('every text that carries words', () => {
  const folder = new URL('../../locales/en/', import.meta.url);
  const texts = readdirSync(folder)
    .flatMap((file) => {
      const read = JSON.parse(readFileSync(new URL(file, folder), 'utf8')) as Record<string, unknown>;
      return Object.entries(read).map(([key, text]) => [
        `${file.replace('.json', '')}.${key}`,
        [text].flat().join('\n'),
      ]);
    })
    .filter(([, text]) => /\{(words|said|asked)\}/.test(text!));

  it.each(texts)('%s has them between marks, or they are the line’s own', (key, text) => {
    if (ours.has(key!) || bringsMarks.test(text!)) return;
    // What is to be sent again stands at the end, as it is to be typed.
    const rest = text!.replaceAll(/"\{(words|said|asked)\}"/g, '').replace(/Tag\} \{words\}$/, '');
    expect(rest).not.toMatch(/\{(words|said|asked)\}/);
  });
});
