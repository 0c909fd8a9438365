import { axes } from '../../src/clinical/completions.ts';
import type { Nodule } from '../../src/clinical/findings.ts';
import { reasons } from '../../src/clinical/reasons.ts';
import { benchWordsOf } from '../../src/content/bench-words.ts';
import { packageRoot } from '../../src/content/load.ts';
import { widthOf } from '../../src/drawings/letters.ts';
import { noduleScene } from '../../src/drawings/nodule.ts';
import type { TextKey } from '../../src/generated/text-keys.ts';
import type { Words } from '../../src/text/say-word.ts';
import { shipped } from '../support/shipped.ts';

const ofLine = [
  ...reasons.map((one) => `because-${one}`),
  ...['common-practice', 'acr-2017', 'eu-2017', 'ata-2015'].map((one) => `policy-${one}`),
  ...['benign', 'very-low', 'low', 'intermediate', 'high', 'unclassified'].map((one) => `level-${one}`),
];

/** The words of the page, and the line's own for reasons, rules and levels. */
export const words: Words = {
  ...Object.fromEntries(ofLine.map((key) => [key, shipped.texts.render('en', `decision.${key}` as TextKey, () => '')])),
  ...benchWordsOf(packageRoot, 'en'),
};

/** A lump of which everything is known. */
export const known: Nodule = {
  mm: [22, 15, 14],
  composition: 'solid',
  spongiformWhole: true,
  eccentric: false,
  solidPartMm: 11,
  echogenicity: 'isoechoic',
  hypoechoicPart: false,
  shape: 'wider-than-tall',
  margin: 'smooth',
  capsule: 'intact',
  foci: [],
};

/** What is drawn, without the words under it. */
export function sceneOf(looks: Nodule, viewMm?: number): string {
  return noduleScene(looks, viewMm === undefined ? { id: 'x' } : { id: 'x', viewMm }).ink;
}

/** Every look that a table can tell apart, as findings. */
export function* everyLook(): Generator<Nodule> {
  for (const interior of axes.interior)
    for (const echo of axes.echo)
      for (const shape of axes.shape)
        for (const edge of axes.edge)
          for (const foci of axes.foci) {
            const ends: Nodule =
              edge === 'extension' ? { margin: 'smooth', capsule: 'invaded' } : { margin: edge, capsule: 'intact' };
            yield { mm: [22, 15, 14], solidPartMm: 11, ...interior, ...echo, shape, ...ends, foci: [...foci] };
          }
}

/** Texts of an SVG that stand out of it, measured with the widest letters. */
export function overflowing(svg: string): readonly string[] {
  const [, wide, high] = /viewBox="0 0 ([\d.]+) ([\d.]+)"/u.exec(svg)!.map(Number) as [number, number, number];
  const sizes: number[] = [];
  const out: string[] = [];
  for (const [, close, tag, attributes = '', content = ''] of svg.matchAll(/<(\/?)(svg|g|text)\b([^>]*)>([^<]*)/gu)) {
    if (tag !== 'text' && close === '/') sizes.pop();
    if (close === '/') continue;
    const own = /font-size="([\d.]+)"/u.exec(attributes);
    const size = own ? Number(own[1]) : (sizes.at(-1) ?? 16);
    if (tag !== 'text') {
      sizes.push(size);
      continue;
    }
    const at = (name: string): number => Number(new RegExp(`\\b${name}="([-\\d.]+)"`, 'u').exec(attributes)![1]);
    const width = widthOf(content.replace(/&\w+;/gu, '&'), size, attributes.includes('bold') ? 'bold' : 'plain');
    const anchor = /text-anchor="(\w+)"/u.exec(attributes)?.[1] ?? 'start';
    const left = at('x') - (anchor === 'end' ? width : anchor === 'middle' ? width / 2 : 0);
    if (left < -0.5 || left + width > wide + 0.5 || at('y') - size < -3 || at('y') > high) out.push(content);
  }
  return out;
}
