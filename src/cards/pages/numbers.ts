/** Card 10: whom to phone, where to go. What the programme does not know is written in by hand. */
import { type Block, beside, framed, paragraph, ruled, stacked } from '../blocks.ts';
import { BODY, largest } from '../page.ts';
import type { Told } from '../told.ts';

export function numbersCard(told: Told): Block | null {
  const { say, place } = told;
  const { laboratory } = place;
  const rows: readonly (readonly [key: string, known: string | null])[] = [
    ['clinic', place.clinic],
    ['voice', place.voice],
    ['hospital', place.hospital],
    ['hospital-phone', null],
    ['night', place.night],
    ['car', null],
    ['doctor-phone', null],
    ['coordinator', null],
    ['line', place.line],
    ['lab', laboratory === null ? null : `${laboratory.name}, ${laboratory.address}`],
    ['lab-phone', null],
  ];
  return largest((size) => {
    const left = BODY.width * 0.42;
    const row = ([key, known]: (typeof rows)[number]): Block => {
      const name = paragraph(say(`number-${key}`), left, size, { weight: 'bold' });
      const right = BODY.width - left - 4;
      const value =
        known === null ? ruled(right, Math.max(size * 2, name.height)) : paragraph(known, right, size * 1.1);
      return beside([name, value], 4);
    };
    return stacked(
      [
        framed(paragraph(say('numbers-first'), BODY.width - 8, size), { padding: 4, heavy: true }),
        stacked(rows.map(row), size * 0.9),
        beside([paragraph(say('numbers-day'), left, size), ruled(BODY.width - left - 4, size * 1.8)], 4),
      ],
      5,
    );
  });
}
