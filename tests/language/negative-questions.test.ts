/**
 * No question denies what it asks. "Yes" to "are there no slides?" says that there are none in Swahili (ndiyo affirms the negative),
 * and nothing in French (si) or Arabic (bala): from memory. A question that only says for whom the next sentence is ("Not you?
 * Send NO.") is answered by nobody, and one that asks why, what or where is answered with no yes.
 */
import { describe, expect, it } from 'vitest';
import { shown } from './shown.ts';

interface Denial {
  readonly tag: string;
  /** The beginning of a question that denies. */
  readonly denies: RegExp;
  /** The beginning of a question that no yes answers. */
  readonly open: RegExp;
  /** The beginning of what those are to do for whom the question is true. */
  readonly instructs: RegExp;
  /** Questions that must not be let through, and some that are no denial. */
  readonly wrong: readonly string[];
  readonly right: readonly string[];
}

const denials: readonly Denial[] = [
  {
    tag: 'fr',
    denies: /^(?:\S+ ){0,3}?(?:n'|ne )|^(?:pas|aucune?|rien|jamais)\b/iu,
    open: /^(?:qu'|que |qui |quel|pourquoi|où |comment|combien)/iu,
    instructs: /^(?:[Ee]nvoyez|[Aa]ppelez|[Dd]ites|W |[A-Z]{2,})/u,
    wrong: ["n'y a-t-il aucune lame?", 'Le couvercle est-il serré, et rien ne coule?', "Le pot n'est-il pas fermé?"],
    right: ['les lames manquent-elles?', "Qu'est-ce qui ne va pas?", "Ce n'est pas vous? Envoyez NON"],
  },
  {
    tag: 'es',
    denies: /^(?:\S+ ){0,3}?(?<! o )(?:no|nada|nadie|ning[uú]n\w*)(?!\p{L})/iu,
    open: /^(?:por qu[eé]|qu[eé]|qui[eé]n|d[oó]nde|cu[aá]\w+|c[oó]mo)/iu,
    instructs: /^(?:[Ee]nvi[eé]|Entonces envi[eé]|[Ll]lame|[Aa]vise|W |[A-Z]{2,})/u,
    wrong: ['¿no hay laminas?', '¿La tapa esta bien cerrada, y nada se sale?'],
    right: ['¿faltan las laminas?', '¿puncion o no?', '¿por qué no se pudo leer?', '¿No fue usted? Envie NO'],
  },
  {
    tag: 'pt',
    denies: /^(?:\S+ ){0,3}?(?<! ou )(?:n[aã]o|nada|ningu[eé]m|nenhum\w*)(?!\p{L})/iu,
    open: /^(?:por ?qu[eê]|o qu[eê]|que |quem|onde|qua\w+|como)/iu,
    instructs: /^(?:[Ee]nviar|[Tt]elefonar|[Aa]visar|W |[A-Z]{2,})/u,
    wrong: ['nao ha laminas?', 'A tampa esta bem fechada e nao verte?'],
    right: ['faltam as laminas?', 'puncao ou nao?', 'porque nao se pode ler?', 'Nao foi este telefone? Enviar NAO'],
  },
  {
    tag: 'sw',
    denies:
      /^(?:\S+ )?(?:ha(?:kuna|mna|pana|na|ji|jui|taki|wezi)|ha(?:i|zi|ya|u|vi|li|ki|tu|wa|m|pa|ku)(?:na|ja|ku|we|to|so|ele|pat)\w*|si|sio|bila)(?!\p{L})/iu,
    open: /^(?:kwa nini|nini|nani|wapi|lini|vipi|gani)/iu,
    instructs: /^(?:[Uu]tume|[Uu]mpigie|[Uu]pige|W |[A-Z]{2,})/u,
    wrong: [
      'hakuna slaidi kabisa?',
      'Je, kifuniko kimebana, na hakuna kinachovuja?',
      'Je, hewa haitoshi akiwa amepumzika?',
    ],
    right: ['je, slaidi zimekosekana?', 'kwa nini haikuweza kusomwa?', 'Si wewe? Utume HAPANA', 'haraka sana?'],
  },
  {
    tag: 'ar',
    denies: /^(?:هل )?(?:\S+ )?(?:لا|لم|لن|ليس\p{L}*|أليس\p{L}*|ألا|ألم|غير)(?!\p{L})/u,
    open: /^(?:لماذا|ماذا|ما|من|أين|متى|كيف|أي) /u,
    instructs: /^(?:إذن )?(?:إرسال|ال?اتصال|خطأ)/u,
    wrong: ['هل لا توجد شرائح؟', 'هل الغطاء محكم، ولا يسيل شيء؟'],
    right: ['هل الشرائح مفقودة؟', 'لماذا لم يمكن قراءتها؟', 'ليس منك؟ إرسال لا', 'إبرة أم لا؟'],
  },
];

/** Questions of a text that deny, in their last clause: before it stands what is certain. `or not` is an answer with a name. */
function denying(text: string, { denies, open, instructs }: Denial): readonly string[] {
  return [...text.matchAll(/[^.!?؟:;]*[?؟]/gu)].flatMap((one) => {
    const question = one[0].replace(/\{\w+\}|¿/gu, ' ').trim();
    const clause = question
      .split(/[,،]| (?=(?:et|y|e) )/u)
      .at(-1)!
      .trim()
      .replace(/^(?:(?:et|y|e|na|je) |و)/iu, '');
    const rest = text.slice(one.index + one[0].length).replace(/^[^\p{L}]+/u, '');
    if (/^(?:ou|o|au|أم) /iu.test(clause)) return [];
    return denies.test(clause) && !open.test(clause) && !open.test(question) && !instructs.test(rest) ? [question] : [];
  });
}

describe.each(denials)('a question ($tag)', (denial) => {
  it('that denies is told from one that does not', () => {
    expect(denial.wrong.filter((one) => denying(one, denial).length === 0)).toEqual([]);
    expect(denial.right.filter((one) => denying(one, denial).length > 0)).toEqual([]);
  });

  it('denies nothing that its answer would affirm', () => {
    const all = shown(denial.tag);
    expect(all.filter(({ text }) => /[?؟]/u.test(text)).length).toBeGreaterThan(100);
    const said = all.flatMap(({ key, text }) => denying(text, denial).map((one) => `${key}: ${one}`));
    expect(said).toEqual([]);
  });
});
