/** Cards 8 and 9: what a laboratory and a doctor send, and what comes back. */

import { THY_CODES } from '../../clinical/cytology/categories.ts';
import { NODE_CODES } from '../../clinical/cytology/nodes.ts';
import { type Block, beside, framed, paragraph, stacked } from '../blocks.ts';
import { BODY, largest } from '../page.ts';
import { type Section, table } from '../tables.ts';
import { shownWord, type Told } from '../told.ts';
import { EXAMPLE } from './label.ts';

/** Numbers of an example: the line draws others each time. */
const YES_DIGITS = '2877';
const TAG = '47';

export function laboratoryCard(told: Told): Block | null {
  const { say } = told;
  const { code, born } = EXAMPLE;
  const send = (keyword: string, rest: string) => `${shownWord(told, keyword)} ${rest}`.trim();
  const sent: Section = {
    heading: say('lab-send'),
    rows: [
      [send('GOT', `${code} 4`), say('lab-got')],
      [send('BAD', code), say('lab-bad')],
      [`${code} Thy4 papillary`, say('lab-result')],
      [send('YES', `${YES_DIGITS} ${born.year}`), say('lab-yes')],
      [send('NO', ''), say('lab-no')],
      [`${code} Thy3f`, say('lab-correct')],
      [send('ASK', `${code} ${say('your-question')}`), say('lab-ask')],
      [send('WRONG', ''), say('lab-wrong')],
    ],
  };
  const answers: Section = {
    heading: say('lab-answers'),
    rows: ['in', 'read-back', 'filed', 'noted'].map((one) => [say(`answer-${one}-word`), say(`answer-${one}`)]),
  };
  const meanings: readonly Section[] = [
    { heading: say('lab-meanings'), rows: THY_CODES.map((one) => [one, meaning(told, one)]) },
    { heading: say('lab-node-meanings'), rows: NODE_CODES.map((one) => [one, meaning(told, one)]) },
  ];
  return largest((size) =>
    stacked(
      [
        framed(paragraph(say('lab-first'), BODY.width - 8, size), { padding: 4, heavy: true }),
        table(sent, { width: BODY.width, size, left: 0.36 }),
        table(answers, { width: BODY.width, size, left: 0.2 }),
        beside(
          meanings.map((one) => table(one, { width: (BODY.width - 7) / 2, size, left: 0.18 })),
          7,
        ),
        paragraph(say('lab-systems'), BODY.width, size),
      ],
      size,
    ),
  );
}

function meaning({ texts, locale }: Told, code: string): string {
  const key = `laboratory.meaning-${code.toLowerCase()}`;
  return texts.has(key) ? texts.render(locale, key, () => '') : code;
}

export function doctorCard(told: Told): Block | null {
  const { say, texts, locale } = told;
  const word = (id: string) => texts.label(locale, 'doctor-words', id).toUpperCase();
  const tag = { tag: TAG };
  const answer: Section = {
    heading: say('doctor-answer'),
    rows: [
      [`${TAG} 1`, say('doctor-digit', tag)],
      [`${TAG} ${say('your-words')}`, say('doctor-words', tag)],
      [TAG, say('doctor-alone', tag)],
      [`${TAG} ${word('pass')}`, say('doctor-pass', tag)],
      [`${TAG} ${word('done')}`, say('doctor-done', tag)],
      [`${shownWord(told, 'TAKE')} ${TAG}`, say('doctor-take', tag)],
    ],
  };
  const look: Section = {
    heading: say('doctor-look'),
    rows: [
      [shownWord(told, 'LIST'), say('doctor-list')],
      [`${shownWord(told, 'CASE')} ${EXAMPLE.code}`, say('doctor-case')],
      [`${shownWord(told, 'CASE')} ${EXAMPLE.code} ${say('your-words')}`, say('doctor-note')],
      [`${shownWord(told, 'END')} ${EXAMPLE.code} ${say('and-why')}`, say('doctor-end')],
    ],
  };
  const hours: Section = {
    heading: say('doctor-hours'),
    rows: [
      [`${shownWord(told, 'OFF')} 18:00`, say('doctor-off')],
      [shownWord(told, 'ON'), say('doctor-on')],
      [`${shownWord(told, 'DUTY')} 8-17`, say('doctor-duty')],
      [shownWord(told, 'WRONG'), say('doctor-wrong')],
    ],
  };
  return largest((size) =>
    stacked(
      [
        framed(paragraph(say('doctor-first'), BODY.width - 8, size), { padding: 4, heavy: true }),
        ...[answer, look, hours].map((one) => table(one, { width: BODY.width, size, left: 0.36 })),
        framed(paragraph(say('doctor-silent'), BODY.width - 8, size), { padding: 4 }),
      ],
      size,
    ),
  );
}
