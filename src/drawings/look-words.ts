/** What was told of a lump, look by look, in words; what nobody knows is said to be unknown. */
import type { KnownNodule } from '../clinical/known.ts';
import { sayWord, type Words } from '../text/say-word.ts';

/** One look: its name, what was told, and whether all of it is known. */
export interface LookLine {
  readonly name: string;
  readonly told: string;
  readonly known: boolean;
}

const millimetres = (mm: number): string => String(Math.round(mm * 10) / 10);

/** `22 x 15 x 14 mm`, `8 to 12 mm`; empty where nobody measured. */
export function sizeText({ mm, size }: Pick<KnownNodule, 'mm' | 'size'>, words: Words): string {
  if (size === null) return '';
  const unit = sayWord(words, 'picture-mm');
  if (mm.length > 0 && size.least === size.most) return `${mm.map(millimetres).join(' x ')} ${unit}`;
  const values = { least: millimetres(size.least), most: millimetres(size.most) };
  return `${sayWord(words, 'picture-from-to', values)} ${unit}`;
}

/** Every look in the order in which the line asks. */
export function lookLines(nodule: KnownNodule, words: Words): readonly LookLine[] {
  const told = (name: string, value: string | null): LookLine => ({
    name: sayWord(words, `picture-look-${name}`),
    told: value ?? sayWord(words, 'picture-unknown'),
    known: value !== null,
  });
  const choice = (field: string, value: string | null): string | null =>
    value === null ? null : sayWord(words, `picture-${field}-${value}`);
  const size = sizeText(nodule, words);
  return [
    told('size', size === '' ? null : size),
    partly(told('inside', choice('composition', nodule.composition)), insideMore(nodule, words)),
    partly(told('grey', choice('echogenicity', nodule.echogenicity)), greyMore(nodule, words)),
    told('shape', choice('shape', nodule.shape)),
    told('edge', choice('margin', nodule.margin)),
    told('capsule', choice('capsule', nodule.capsule)),
    foci(nodule, words, told),
  ];
}

/** A look that has more to it: what is known of that, what is not. */
function partly(line: LookLine, more: readonly LookLine[]): LookLine {
  if (more.length === 0) return line;
  return {
    ...line,
    told: [line.told, ...more.map((one) => one.told)].join(', '),
    known: line.known && more.every((one) => one.known),
  };
}

function insideMore({ composition, spongiformWhole, eccentric, solidPartMm }: KnownNodule, words: Words): LookLine[] {
  const line = (key: string, known: boolean, values = {}): LookLine => ({
    name: '',
    told: sayWord(words, `picture-${key}`, values),
    known,
  });
  const truth = (field: string, value: boolean | null): LookLine =>
    line(`${field}-${value ?? 'unknown'}`, value !== null);
  if (composition === 'spongiform') return [truth('whole', spongiformWhole)];
  if (composition !== 'mixed') return [];
  const part =
    solidPartMm === null ? line('part-unknown', false) : line('part', true, { mm: millimetres(solidPartMm) });
  return [part, truth('eccentric', eccentric)];
}

function greyMore({ hypoechoicPart }: KnownNodule, words: Words): LookLine[] {
  return hypoechoicPart === true ? [{ name: '', told: sayWord(words, 'picture-dark-part'), known: true }] : [];
}

function foci(
  { foci: { present, open } }: KnownNodule,
  words: Words,
  told: (name: string, value: string | null) => LookLine,
): LookLine {
  const named = present.map((one) => sayWord(words, `picture-focus-${one}`));
  if (named.length === 0 && open) return told('foci', null);
  if (named.length === 0) return told('foci', sayWord(words, 'picture-focus-none'));
  const rest = open ? [sayWord(words, 'picture-focus-rest')] : [];
  return { ...told('foci', [...named, ...rest].join(', ')), known: !open };
}
