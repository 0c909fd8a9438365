/** Card 5: what is written where. The patient is invented. */

import { formatCode } from '../../case/code.ts';
import { type Label, labelLines } from '../../case/label.ts';
import { labelWords } from '../../conversation/matters/label-words.ts';
import { type Block, beside, framed, numberRing, paragraph, picture, stacked } from '../blocks.ts';
import { pencilOnSlide, sideNotLid } from '../drawings/label.ts';
import { BODY, largest } from '../page.ts';
import type { Told } from '../told.ts';

/** An example that nobody is. */
export const EXAMPLE = {
  code: '48291354',
  name: 'TALA FENN',
  born: { year: 1982, month: 3, day: 12 },
  mm: [22, 15, 14],
} as const;

export function exampleLabel(told: Told, person: Label['person']): readonly string[] {
  return labelLines(
    {
      code: EXAMPLE.code,
      person,
      taken: { year: 2030, month: 3, day: 4 },
      technique: 'capillary',
      side: 'right',
      place: null,
      node: null,
      mm: EXAMPLE.mm,
      fluids: [],
      slides: [{ numbers: [1, 2, 3, 4], fixation: 'alcohol' }],
      slidesInAll: 4,
      site: told.place.clinic ?? told.say('your-clinic'),
    },
    labelWords(told.texts, told.locale),
  );
}

export function labelCard(told: Told): Block | null {
  const { say } = told;
  const half = (BODY.width - 6) / 2;
  const side = told.texts.label(told.locale, 'sideShort', 'right');
  const onGlass = [
    EXAMPLE.name,
    String(EXAMPLE.born.year),
    formatCode(EXAMPLE.code),
    `${side} ${EXAMPLE.mm[0]}mm`,
    '1/4',
    // As the line sends it, so that glass and text say the same.
  ].map((line) => told.texts.asDrawn(told.locale, line));
  return largest((size) => {
    const drawn = (number: number, key: string, drawing: Parameters<typeof picture>[0]) =>
      stacked(
        [
          picture(drawing, { title: say(`${key}-title`), description: say(`${key}-drawing`) }, half, half * 0.65),
          captioned(number, say(key), half, size),
        ],
        2,
      );
    const sent = exampleLabel(told, { mode: 'by-hand', birthYear: EXAMPLE.born.year });
    const block = (number: number, key: string, person: Label['person']) =>
      stacked(
        [
          captioned(number, say(key), half, size),
          framed(
            stacked(
              exampleLabel(told, person).map((line) =>
                // What was written by hand stands out.
                paragraph(line, half - 8, Math.min(size, 4.6), {
                  weight: key === 'label-written' && !sent.includes(line) ? 'bold' : 'plain',
                }),
              ),
              0,
            ),
            { padding: 4 },
          ),
        ],
        3,
      );
    return stacked(
      [
        beside([drawn(1, 'pencil', pencilOnSlide(onGlass)), drawn(2, 'side-not-lid', sideNotLid)], 6),
        beside(
          [
            block(3, 'label-sent', { mode: 'by-hand', birthYear: EXAMPLE.born.year }),
            block(4, 'label-written', { mode: 'in-chat', name: EXAMPLE.name, born: EXAMPLE.born }),
          ],
          6,
        ),
        captioned(5, say('label-check'), BODY.width, size),
        captioned(6, say('label-book'), BODY.width, size),
      ],
      6,
    );
  });
}

function captioned(number: number, text: string, width: number, size: number): Block {
  const ring = numberRing(number, size);
  return beside([ring, paragraph(text, width - ring.width - 2, size)], 2);
}
