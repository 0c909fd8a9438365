/**
 * Words that mean something else to the person who reads them: no shown text holds one, and the word for it is there.
 *
 * Sources, read for each language: fr anapet.be (a "lame" is a slide and a blade), lbpm.be (a "frottis" is a gynaecological smear),
 * Santé publique France "Communiquer pour tous" (what sounds reassuring); es salud.mapfre.es ("citología" is the smear of the cervix),
 * MedlinePlus etr.html; pt revistaonline.news (lymph nodes are called lumps of the neck), DGS "Manual de Literacia em Saúde" 2019;
 * sw BBC Swahili 37564199 ("saratani ya shingo ya kizazi" is cancer of the cervix), maishahuru 3408 (the prostate on a page on goitres),
 * diramakini.co.tz ("uvimbe" is a tumour too); ar mwade3.com ("سيولة" is a bleeding disease), medicaladvisor.net (an effect of
 * medicines), Benjamins 06sar (terms unsettled). "Positive" and "negative": common practice, no source.
 */
import { describe, expect, it } from 'vitest';
import { indexTexts, type TextEntry } from '../../src/content/text-index.ts';
import { shipped } from '../support/shipped.ts';

/** Heard, and not said. */
const heard: ReadonlySet<string> = new Set([
  'alarm',
  'cautions',
  'everyday',
  'from-english',
  'keywords',
  'quick',
  'meta',
]);

const shown = (tag: string): readonly TextEntry[] =>
  [...indexTexts(shipped.sources.locales.find((one) => one.tag === tag)!).values()]
    .flat()
    .filter(
      ({ key, ownKey, file }) => !heard.has(file.name) && !ownKey.startsWith('options.') && !key.endsWith('.options'),
    );

interface FalseFriend {
  readonly tag: string;
  readonly word: string;
  readonly pattern: RegExp;
  /** A sentence that must not be let through. */
  readonly wrong: string;
  readonly right: string;
  /** Texts that explain it, or say something else with it, each with why. */
  readonly but?: Readonly<Record<string, string>>;
}

const falseFriends: readonly FalseFriend[] = [
  { tag: 'fr', word: 'frottis', pattern: /frottis/iu, wrong: 'Faites un frottis fin.', right: 'Etalez fin.' },
  {
    tag: 'fr',
    word: 'non contributif',
    pattern: /non[ -]contributi/iu,
    wrong: 'Prélèvement non contributif.',
    right: 'Pas assez de cellules, à refaire.',
  },
  {
    tag: 'es',
    word: 'citologia',
    pattern: /citolog/iu,
    wrong: 'Haga una citologia.',
    right: 'Muestra de tiroides.',
    but: { 'glossary.cytology': 'says what the word means' },
  },
  {
    tag: 'es',
    word: 'nodulo linfatico',
    pattern: /n[oó]dulos? linf[aá]tic/iu,
    wrong: 'Hay un nodulo linfatico.',
    right: 'Hay un ganglio del cuello.',
  },
  {
    tag: 'pt',
    word: 'nodulos linfaticos',
    pattern: /n[oó]dulos? linf[aá]tic/iu,
    wrong: 'Há nodulos linfaticos do pescoço.',
    right: 'Há uma íngua.',
  },
  {
    tag: 'sw',
    word: 'saratani ya shingo',
    pattern: /saratani ya (?:shingo|kizazi)|kizazi/iu,
    wrong: 'Ni saratani ya shingo.',
    right: 'Ni saratani ya tezi ya shingo.',
  },
  { tag: 'sw', word: 'tezi dume', pattern: /tezi dume/iu, wrong: 'Ni tezi dume.', right: 'Ni tezi ya shingo.' },
  {
    tag: 'sw',
    word: 'uvimbe',
    pattern: /\buvimbe/iu,
    wrong: 'Uvimbe una milimita 22.',
    right: 'Kinundu kina milimita 22.',
    but: {
      'glossary.haematoma': 'a swelling of blood',
      'glossary.men': 'tumours of other glands',
      'glossary.phaeochromocytoma': 'a tumour of another gland',
      'sos.bleeding': 'the swelling of blood around the mark of the needle',
    },
  },
  { tag: 'ar', word: 'سيولة', pattern: /سيولة/u, wrong: 'هل لديه سيولة؟', right: 'هل يتناول وارفارين؟' },
  {
    tag: 'ar',
    word: 'عقيدة',
    pattern: /عقيد/u,
    wrong: 'حجم العقيدة 22 مم.',
    right: 'حجم الكتلة 22 مم.',
    but: { 'glossary.nodule': 'says what the word on paper means' },
  },
  {
    tag: 'ar',
    word: 'صلب',
    pattern: /صلب/u,
    wrong: 'كتلة صلبة.',
    right: 'كتلة مصمتة.',
    but: { 'glossary.sharps-box': 'a box of hard walls' },
  },
  ...[
    {
      tag: 'en',
      word: 'positive, negative',
      pattern: /\b(?:posi|nega)tive/iu,
      wrong: 'The result is negative.',
      right: 'No cancer was seen.',
    },
    {
      tag: 'fr',
      word: 'positif, négatif',
      pattern: /\b(?:posi|n[ée]ga)ti[fv]/iu,
      wrong: 'Résultat négatif.',
      right: 'Pas de cancer vu.',
    },
    {
      tag: 'es',
      word: 'positivo, negativo',
      pattern: /\b(?:posi|nega)tiv/iu,
      wrong: 'Resultado negativo.',
      right: 'No se vio cancer.',
    },
    {
      tag: 'pt',
      word: 'positivo, negativo',
      pattern: /\b(?:posi|nega)tiv/iu,
      wrong: 'Resultado negativo.',
      right: 'Nao se viu cancro.',
    },
    {
      tag: 'sw',
      word: 'chanya, hasi',
      pattern: /\b(?:chanya|hasi)\b/iu,
      wrong: 'Jibu ni hasi.',
      right: 'Saratani haikuonekana.',
    },
    {
      tag: 'ar',
      word: 'إيجابي، سلبي',
      pattern: /إيجابي|ايجابي|سلبي/u,
      wrong: 'النتيجة سلبية.',
      right: 'لم يظهر سرطان.',
    },
  ].map((one) => ({ ...one, but: { 'action.type-anaplastic': 'the calcitonin of a panel, which has no other word' } })),
];

describe.each(falseFriends)('$word ($tag)', ({ tag, pattern, wrong, right, but = {} }) => {
  it('is told from the word that is meant', () => {
    expect([pattern.test(wrong), pattern.test(right)]).toEqual([true, false]);
  });

  it('is said in no text but those that explain it', () => {
    const said = shown(tag).flatMap(({ key, text }) => (pattern.test(text) ? [key] : []));
    expect([...new Set(said)].sort()).toEqual(Object.keys(but).sort());
  });
});

describe('what is meant is named', () => {
  it.each([
    { tag: 'fr', slide: 'lame', glass: 'lames de verre' },
    { tag: 'es', slide: 'lamina', glass: 'laminas de vidrio' },
    { tag: 'pt', slide: 'lamina', glass: 'laminas de vidro' },
    { tag: 'ar', slide: 'شريحة', glass: 'شرائح الزجاج' },
  ])('a slide is of glass where the bench is asked, and no blade or card ($tag: $glass)', ({ tag, glass }) => {
    const bench = shown(tag).find(({ ownKey }) => ownKey === 'supplies')!;
    expect(bench.text).toContain(glass);
    const glossary = shown(tag).find(({ key }) => key === 'glossary.slide')!;
    expect(glossary.text).toMatch(/verre|vidrio|vidro|زجاج/u);
  });

  it.each(['decision', 'new', 'say', 'words'])(
    'the gland is that of the neck where it is first said in %s (sw)',
    (name) => {
      // Names of findings that stand after the question which said it, and the glands beside it, are let through.
      const said = shown('sw').filter(
        ({ file, text, ownKey }) =>
          file.name === name && /\btezi\b/iu.test(text) && /[.?]/u.test(text) && !ownKey.endsWith('_brief'),
      );
      expect(said.length).toBeGreaterThan(0);
      expect(
        said.filter(({ text }) => !/tezi (?:yako |nyingine )?ya shingo/iu.test(text)).map(({ key }) => key),
      ).toEqual([]);
    },
  );

  it('a lump of the thyroid is a mass and no knot: where it is examined and decided, the knot is a node of the neck (ar)', () => {
    const said = shown('ar').filter(
      ({ file, text }) => ['new', 'decision', 'say', 'sampling'].includes(file.name) && /عقدة/u.test(text),
    );
    expect(said.map(({ key }) => key).sort()).toEqual(['decision.caution-sample-node-too', 'sampling.node-here']);
    expect(said.filter(({ text }) => !/عقدة .*رقبة|رقبة.*عقدة|عقدة لمفاوية/u.test(text)).map(({ key }) => key)).toEqual(
      [],
    );
  });
});
