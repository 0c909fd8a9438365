/**
 * Words that mean something else to the person who reads them: no shown text holds one, and the word for it is there.
 *
 * Sources, read for each language: fr anapet.be (a "lame" is a slide and a blade), lbpm.be (a "frottis" is a gynaecological smear),
 * Santé publique France "Communiquer pour tous" (what sounds reassuring); es salud.mapfre.es ("citología" is the smear of the cervix),
 * MedlinePlus etr.html; pt revistaonline.news (lymph nodes are called lumps of the neck), DGS "Manual de Literacia em Saúde" 2019;
 * sw BBC Swahili 37564199 ("saratani ya shingo ya kizazi" is cancer of the cervix), maishahuru 3408 (the prostate on a page on goitres),
 * diramakini.co.tz ("uvimbe" is a tumour too); ar mwade3.com ("سيولة" is a bleeding disease), medicaladvisor.net (an effect of
 * medicines), Benjamins 06sar (terms unsettled). What cancro is in each country, accents that are lost and sentences that read two
 * ways: from memory. "Positive" and "negative": common practice, no source.
 */
import { describe, expect, it } from 'vitest';
import { shown } from './shown.ts';

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
  {
    tag: 'es',
    word: 'cuello, of the neck or of the womb',
    pattern: /(?:c[eé]lulas|muestra|prueba|c[aá]ncer) (?:de[l]?|en) (?:(?:el|su) )?cuello/iu,
    wrong: 'Algunas células del cuello han cambiado.',
    right: 'Algunas células de un bulto del cuello han cambiado.',
    but: { 'glossary.cytology': 'says that they are not of the womb' },
  },
  {
    // "Cancro" is cancer in Portugal, Angola and Mozambique and a sore in Brazil, so the whole language is theirs.
    tag: 'pt',
    word: 'cancro, among words of Brazil',
    pattern: /c[aâ]ncer|tire[oó]ide|ultrassom|\blaudo|\bencaminh/iu,
    wrong: 'Encaminhar: cancro da tireoide.',
    right: 'Transferir: cancro da tiroide.',
  },
  {
    tag: 'sw',
    word: 'sindano that treats',
    pattern: /sindano ya (?:ku)?(?:tiba|tibu|dawa|matibabu|ponya)/iu,
    wrong: 'Utapata sindano ya dawa.',
    right: 'Tunachukua seli kwa sindano.',
    but: { 'say.consent': 'says to the patient that it is none' },
  },
];

/** Words that read another way without their accent, which a text of 160 characters cannot carry. */
const withoutAccent: readonly FalseFriend[] = [
  {
    tag: 'es',
    word: 'no pregunte: do not ask',
    pattern: /\bno (?:l[eo] )?pregunte\b/iu,
    wrong: 'TSH: no pregunte.',
    right: 'TSH: sin preguntar.',
  },
  {
    tag: 'es',
    word: 'termino: I finish',
    pattern: /(?<=^|[.,:}] ?)termino (?:a las|la )/u,
    wrong: '{lead}anotado, termino a las 10:40.',
    right: '{lead}anotado, ha terminado a las 10:40.',
    but: { 'staff.did-aftercare-done': 'stands behind the name of who did it' },
  },
  {
    tag: 'fr',
    word: 'sur: on, where sure is meant',
    pattern:
      /\bsure?s?(?= que|\s*[.?!,;]|$)|\b(?:pas|bien|plus|etes|suis) sur\b(?! (?:l[ae']|les|une?|s[aeo]|ce|votre))/u,
    wrong: "Le labo n'est plus sur.",
    right: "Le labo n'est plus certain.",
  },
  {
    tag: 'fr',
    word: 'recu: no word',
    pattern: /\brecue?s?\b/u,
    wrong: 'Colis recu hier.',
    right: 'Colis arrivé hier.',
  },
];

/** Sentences that read another way than they are meant. */
const twoWays: readonly FalseFriend[] = [
  {
    tag: 'ar',
    word: 'عادت الحالة: the illness recurred',
    pattern: /(?<!\p{L})عادت الحالة/u,
    wrong: 'المراقبة جيدة إذا عادت الحالة.',
    right: 'المراقبة جيدة إذا حضرت الحالة مرة أخرى.',
  },
  {
    tag: 'ar',
    word: 'قراءة مرة ثانية: read once, and not again',
    pattern: /قراءت?\S*(?: \S+)? مرة ثانية|مقروءة ثانية/u,
    wrong: 'لم يستطع أحد قراءة العقدة مرة ثانية.',
    right: 'مرة أخرى لم يستطع أحد قراءة العقدة.',
  },
  {
    tag: 'ar',
    word: 'مسح: a sweep of the ultrasound',
    pattern: /(?<!\p{L})(?:و?ال)?مسح(?!\p{L})(?! (?:ال)?ذري| الغدة| الجل| الصورة)/u,
    wrong: 'السؤال عن الحمل قبل أي مسح.',
    right: 'السؤال عن الحمل قبل أي مسح ذري.',
    but: {
      'decision.because-hot-nodule': 'hot is said of that scan alone',
    },
  },
  {
    tag: 'ar',
    word: 'a sentence that begins with a bare number: an answer',
    pattern: /[.؟:] \d+ من /u,
    wrong: 'إخراج الشرائح. 2 من قطرات الجلسرين على كل منها.',
    right: 'إخراج الشرائح. وضع 2 من قطرات الجلسرين على كل منها.',
  },
  {
    tag: 'fr',
    word: 'personne: nobody',
    pattern: /(?<=^|[.:;] )personne (?:présente|ici|là|venue)/iu,
    wrong: "La ponction est aujourd'hui. Personne présente: NOUVEAU.",
    right: "La ponction est aujourd'hui. Si la personne est là: NOUVEAU.",
  },
  {
    tag: 'fr',
    word: "tout n'a pas: nothing, or not all",
    pattern: /(?<=^|[.:,] ?)tou(?:te?s?|s) (?:ce|ceux|le|la|les)\b[^.:]* (?:n'a|n'ont|n'est|ne sont) pas/iu,
    wrong: "Tout ce qui pourrait etre contre n'a pas été demandé.",
    right: "On n'a pas demandé tout ce qui pourrait etre contre.",
  },
  {
    tag: 'es',
    word: 'no seguro: not safe',
    pattern: /\bno (?:es |esta )?segur[oa]s?\b(?! (?:que|de))/iu,
    wrong: 'Es sospechoso, no es seguro.',
    right: 'Es sospechoso, no hay certeza.',
    but: { 'words.decision-elsewhere': 'means that it is not safe' },
  },
  {
    tag: 'es',
    word: 'al lado del cuello: beside the neck',
    pattern: /\bal lado de(?:l| su| la)? ?cuello/iu,
    wrong: 'Un bulto al lado del cuello.',
    right: 'Un bulto en el lado del cuello.',
  },
];

describe.each([...falseFriends, ...withoutAccent, ...twoWays])(
  '$word ($tag)',
  ({ tag, pattern, wrong, right, but = {} }) => {
    it('is told from the word that is meant', () => {
      expect([pattern.test(wrong), pattern.test(right)]).toEqual([true, false]);
    });

    it('is said in no text but those that explain it', () => {
      const said = shown(tag).flatMap(({ key, text }) => (pattern.test(text) ? [key] : []));
      expect([...new Set(said)].sort()).toEqual(Object.keys(but).sort());
    });
  },
);

describe('what is meant is named', () => {
  it('a patient who hears of a needle hears that it takes cells and treats nothing (sw)', () => {
    const said = shown('sw').filter(({ file }) => file.name === 'say');
    expect(said.find(({ key }) => key === 'say.consent')!.text).toMatch(/kuchukua seli .*Si sindano ya kutibu/su);
    const another = said.filter(({ text }) => /sindano mpya/iu.test(text));
    expect(another.length).toBeGreaterThan(1);
    expect(another.filter(({ text }) => !/sindano mpya ya kuchukua seli/iu.test(text)).map(({ key }) => key)).toEqual(
      [],
    );
  });

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
