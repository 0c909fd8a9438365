/** Card 1: which word does what. */
import { type Block, framed, paragraph, stacked } from '../blocks.ts';
import { BODY, largest } from '../page.ts';
import { type Section, twoColumns } from '../tables.ts';
import { alarmWord, shownWord, type Told } from '../told.ts';

/** Words by what they are for; SOS stands before them all. Those in no list come first under `any`. */
const topics: Readonly<Record<string, readonly string[]>> = {
  any: ['HELP', 'W', 'SAY', 'BACK', 'MORE', 'WRONG', 'PLAIN', 'BRIEF', 'LANGUAGE', 'JOIN', 'LOST', 'STOP', 'START'],
  patient: ['NEW', 'LIST', 'CASE', 'TAKE', 'DOCTOR', 'POST', 'STOCK', 'YES'],
  'not-happened': ['REFUSES', 'GONE', 'NOTDONE', 'LATER', 'NOPARCEL', 'SEEN', 'END'],
  lab: ['GOT', 'BAD', 'NO', 'ASK'],
  doctor: ['OFF', 'ON', 'DUTY', 'REPORT'],
  coordinator: ['PEOPLE', 'ADD', 'CHANGE', 'SUSPEND', 'RESTORE', 'FRESH', 'HANDOVER', 'CREDIT'],
};

export function wordsCard(told: Told): Block | null {
  const { say } = told;
  const sections = sectionsOf(told);
  const values = {
    same: alarmWord(told, 'same'),
    worse: alarmWord(told, 'worse'),
    going: alarmWord(told, 'going'),
    well: alarmWord(told, 'well'),
    cannot: alarmWord(told, 'cannot'),
  };
  return largest((size) => {
    const wide = BODY.width - 8;
    const first = framed(
      stacked(
        [
          paragraph(shownWord(told, 'SOS'), wide, size * 2.6, { weight: 'bold' }),
          paragraph(say('word-sos'), wide, size * 1.25),
          paragraph(say('words-alarm', values), wide, size),
        ],
        size * 0.5,
      ),
      { padding: 4, heavy: true },
    );
    const last = paragraph(say('words-tag'), BODY.width, size);
    const columns = twoColumns(sections, size, first.height + last.height + 10);
    // Higher than any page: the next size is tried.
    return columns === null ? { ...first, height: Infinity } : stacked([first, columns, last], 5);
  });
}

function sectionsOf(told: Told): readonly Section[] {
  const named = Object.values(topics).flat();
  const others = [...told.words.keys()].filter((one) => one !== 'SOS' && !named.includes(one));
  return Object.entries(topics)
    .map(([topic, listed]) => ({
      heading: told.say(`topic-${topic}`),
      rows: [...(topic === 'any' ? others : []), ...listed]
        .filter((keyword) => told.words.has(keyword))
        .map((keyword) => [wordWithShort(told, keyword), told.say(`word-${keyword.toLowerCase()}`)] as const),
    }))
    .filter(({ rows }) => rows.length > 0);
}

/** `HELP ?`: a word with its signs, or with its long form where it is a letter itself. */
function wordWithShort(told: Told, keyword: string): string {
  const [first = keyword, ...others] = told.words.get(keyword) ?? [];
  const beside = first.length === 1 ? others.slice(0, 1) : others.filter((one) => one.length === 1);
  return [first, ...beside].join(', ').toUpperCase();
}
