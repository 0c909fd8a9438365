/**
 * Woman or man. A single letter fails: M is mujer, mulher and mwanamke, and masculino, masculino and mwanaume (Mexico's own number
 * of a person, the CURP, writes H and M: expansion.mx), so that a pregnant woman would be taken for a man and not be asked.
 */
import { describe, expect, it } from 'vitest';
import { quickFindings } from '../../src/cli/quick-findings.ts';
import { readPatient } from '../../src/conversation/answers/patient.ts';
import { readQuickText } from '../../src/conversation/quick-text.ts';
import { foldWord } from '../../src/text/fold.ts';
import { playLines, received } from '../support/play.ts';
import { shipped } from '../support/shipped.ts';

const tongues = shipped.sources.locales.map(({ tag }) => tag);
const quickOf = (tag: string) => shipped.quick.get(tag)!;
const patientOf = (tag: string, text: string) => readPatient(text, quickOf(tag).patient, 2030);

/** A woman's or a man's word where each language asks for it, and what is typed for a man. */
const said: Readonly<Record<string, { readonly woman: string; readonly man: string; readonly typed: string }>> = {
  en: { woman: 'woman', man: 'man', typed: 'M' },
  fr: { woman: 'femme', man: 'homme', typed: 'M' },
  es: { woman: 'mujer', man: 'hombre', typed: 'H' },
  pt: { woman: 'mulher', man: 'homem', typed: 'H' },
  sw: { woman: 'mwanamke', man: 'mwanaume', typed: 'MWANAUME' },
  ar: { woman: 'أنثى', man: 'ذكر', typed: 'M' },
};

describe.each(tongues)('in %s', (tag) => {
  const { woman, man, typed } = said[tag]!;
  const asks = (voice: 'plain' | 'brief') => shipped.texts.render(tag, 'new.patient', () => '', voice);

  it('the question says which is which, in both voices, and what it shows is read so', () => {
    for (const text of tag === 'en' ? [asks('plain')] : [asks('plain'), asks('brief')]) {
      expect(foldWord(text)).toContain(foldWord(woman));
      expect(foldWord(text)).toContain(foldWord(man));
      expect(text).toMatch(new RegExp(`\\b${typed}\\b`, 'u'));
    }
    expect(patientOf(tag, `AK 1982 ${woman}`)).toMatchObject({ ok: true, value: { sex: 'female' } });
    expect(patientOf(tag, 'AK 1982 F')).toMatchObject({ ok: true, value: { sex: 'female' } });
    for (const text of [man, typed])
      expect(patientOf(tag, `AK 1982 ${text}`)).toMatchObject({ ok: true, value: { sex: 'male' } });
  });

  it('what people read of the sex is read back as the same', () => {
    for (const [id, field] of [
      ['female', 'sex'],
      ['male', 'sex'],
      ['female', 'sexShort'],
      ['male', 'sexShort'],
    ] as const) {
      const shown = shipped.texts.label(tag, field, id);
      expect(patientOf(tag, `AK 1982 ${shown}`)).toMatchObject({ ok: true, value: { sex: id } });
      if (tag !== 'en' && field === 'sex') expect(foldWord(shown)).toBe(foldWord(id === 'female' ? woman : man));
    }
  });

  it('the letter of a word for a woman is never read as a man', () => {
    const letter = foldWord(woman)[0]!;
    const read = patientOf(tag, `AK 1982 ${letter}`);
    expect(read.ok && read.value.sex === 'male').toBe(false);
  });
});

describe.each([
  ['es', 'NUEVO', 'mujer'],
  ['pt', 'NOVO', 'mulher'],
  ['sw', 'MPYA', 'mwanamke'],
])('M alone in %s', (tag, begin, woman) => {
  const phones = [
    'phone d bench:d role=doctor',
    'phone l bench:l role=lab',
    'phone c bench:c role=coordinator',
    `phone w bench:w role=worker site=oruma locale=${tag}`,
  ];

  it('is asked back: woman or man', async () => {
    const { json } = await playLines([...phones, `w> ${begin}`, 'w> AK 1982 M P20']);
    const texts = received(json, 'w').join(' ');
    expect(texts).toContain('"AK 1982 M P20"');
    expect(texts).toContain(woman);
    expect(json.at(-2)).toMatchObject({ step: 'patient' });
  });

  it('in a quick text is not taken for a man, nor for the middle of the neck', () => {
    const { answers, leftover } = readQuickText(`${begin} AK 1982 M`, quickOf(tag), 2030);
    expect(answers).toEqual([]);
    expect(leftover).toEqual(['AK', '1982', 'M']);
  });

  it('the read-back says the word', async () => {
    const { json } = await playLines([...phones, `w> ${quickFindings(quickOf(tag))}`, 'w> 0']);
    const checked = received(json, 'w').filter((text) => text.includes(` AK ${woman} 1982`));
    expect(checked.length).toBeGreaterThan(0);
  });
});
