/** Card 11: what the questions about a lump mean on the screen, each answer drawn beside its digit. */
import type { Nodule } from '../../clinical/findings.ts';
import { noduleDrawing, noduleScene } from '../../drawings/nodule.ts';
import { type Block, beside, framed, numberRing, paragraph, picture, stacked } from '../blocks.ts';
import { BODY, largest } from '../page.ts';
import type { Told } from '../told.ts';

/** A lump of which nothing stands out: each drawing changes what its answer names. */
const plain: Nodule = {
  mm: [20, 16, 15],
  composition: 'solid',
  echogenicity: 'isoechoic',
  hypoechoicPart: false,
  shape: 'wider-than-tall',
  margin: 'smooth',
  capsule: 'intact',
  foci: [],
};

/** The lump that is drawn large: an example with several looks at once. */
const example: Nodule = {
  ...plain,
  mm: [22, 15, 14],
  echogenicity: 'hypoechoic',
  margin: 'irregular',
  foci: ['punctate'],
};

/** One answer: the digit that is sent, the text of its words, the lump as it then looks. */
interface Answer {
  readonly digit: number;
  readonly key: string;
  readonly looks: Nodule;
}

/** The three questions about a lump, with the digits of `new.inside`, `new.looks` and `new.bright`. */
export const lookQuestions: readonly { readonly key: string; readonly answers: readonly Answer[] }[] = [
  {
    key: 'look-inside',
    answers: [
      { digit: 1, key: 'look-cystic', looks: { ...plain, composition: 'cystic', echogenicity: 'anechoic' } },
      { digit: 2, key: 'look-spongiform', looks: { ...plain, composition: 'spongiform', spongiformWhole: true } },
      { digit: 3, key: 'look-mixed', looks: { ...plain, composition: 'mixed', solidPartMm: 11, eccentric: true } },
      { digit: 4, key: 'look-solid', looks: plain },
      { digit: 5, key: 'look-obscured', looks: { ...plain, composition: 'obscured' } },
    ],
  },
  {
    key: 'look-looks',
    answers: [
      { digit: 1, key: 'look-hypoechoic', looks: { ...plain, echogenicity: 'hypoechoic' } },
      { digit: 2, key: 'look-very-hypoechoic', looks: { ...plain, echogenicity: 'very-hypoechoic' } },
      { digit: 3, key: 'look-taller-than-wide', looks: { ...plain, shape: 'taller-than-wide' } },
      { digit: 4, key: 'look-irregular', looks: { ...plain, margin: 'irregular' } },
      { digit: 5, key: 'look-invaded', looks: { ...plain, capsule: 'invaded' } },
    ],
  },
  {
    key: 'look-bright',
    answers: [
      { digit: 6, key: 'look-punctate', looks: { ...plain, foci: ['punctate'] } },
      { digit: 7, key: 'look-macrocalcification', looks: { ...plain, foci: ['macrocalcification'] } },
      { digit: 8, key: 'look-rim-calcification', looks: { ...plain, foci: ['rim-calcification'] } },
    ],
  },
];

const COLUMNS = 5;
const GAP = 4;

export function looksCard(told: Told): Block | null {
  const { say } = told;
  const width = (BODY.width - (COLUMNS - 1) * GAP) / COLUMNS;
  const names = {
    'picture-skin': say('look-skin'),
    'picture-muscle': say('look-muscle'),
    'picture-thyroid': say('look-thyroid'),
    'picture-mm': say('look-mm'),
  };
  const small = ({ digit, key, looks }: Answer, size: number): Block => {
    const what = say(key);
    const seen = { title: say('look-title', { what }), description: say('look-drawing', { what }) };
    const ring = numberRing(digit, size);
    const words = paragraph(what, width - ring.width - 1.5, size);
    return stacked(
      [picture(noduleScene(looks, { id: `${key}-` }), seen, width, width * 0.75), beside([ring, words], 1.5)],
      1.5,
    );
  };
  return largest((size) => {
    const letters = Math.min(size, 4.6);
    const wide = BODY.width * 0.5;
    const shown = picture(
      noduleDrawing(example, names, { id: 'look-example-' }),
      { title: say('look-example-title'), description: say('look-example-drawing') },
      wide,
      wide * 0.66,
    );
    const beyond = BODY.width - wide - 6;
    const read = ['look-greys', 'look-depth', 'look-ruler'].map((key) => paragraph(say(key), beyond, letters));
    const rows = lookQuestions.map(({ key, answers }) =>
      stacked(
        [
          paragraph(say(key), BODY.width, letters * 1.06, { weight: 'bold' }),
          beside(
            answers.map((one) => small(one, Math.min(letters, 4))),
            GAP,
          ),
        ],
        1.5,
      ),
    );
    return stacked(
      [
        beside([shown, stacked(read, 3)], 6),
        ...rows,
        framed(paragraph(say('look-unknown'), BODY.width - 8, letters), { padding: 4 }),
      ],
      4,
    );
  });
}
