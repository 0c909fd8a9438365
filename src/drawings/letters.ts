/** How wide letters are, so that lines can be broken without a browser. */

/**
 * Arabic letters in the same measure: each in the form that it has most often inside a word, those that end one wider (DejaVu Sans,
 * measured by eye; common practice, no source). Words are a little narrower than that.
 */
const arabic: Readonly<Record<number, string>> = {
  28: 'اأإآ،؛',
  44: 'درذزوؤء؟',
  56: 'لهمةنعغحخجيىئكقطظ',
  66: 'بتثف',
  84: 'سشصض',
};

/**
 * Widths in hundredths of the size, by letters, rounded up: those of DejaVu Sans, which is as wide as Verdana and wider than Arial and
 * Helvetica, with what pairs of a letter add. What is not listed counts as wide as the widest, an accented letter as its base.
 */
const plain: Readonly<Record<number, string>> = {
  28: "'ijl",
  32: ' \u00a0,.IJ',
  35: '/:;\\|',
  40: '()-[]ft',
  42: '!r',
  47: '"',
  53: '*_`sz',
  56: '?Lc',
  60: 'Fkvxy',
  62: 'PTYaeo',
  64: '$0123456789ESbdghnpqu{}',
  70: 'BCKRVXZ',
  72: 'A',
  78: '&DGHNU',
  84: '#+<=>OQ^w~',
  88: 'M',
  100: '%@Wm',
};
const bold: Readonly<Record<number, string>> = {
  32: "'",
  35: ' \u00a0ijl',
  40: ',./:;IJ\\|',
  42: '-',
  47: '!()[]f',
  53: '"*_`rt',
  60: '?csz',
  66: 'Lvxy',
  70: '$0123456789EFaeko',
  72: 'T',
  74: 'CPSYZbdghnpqu{}',
  78: 'ABKRVX',
  84: '#+<=>DGHNU^~',
  88: '&OQ',
  100: '@Mw',
  111: '%Wm',
};
const widest = 1.11;

const byLetter = (table: Readonly<Record<number, string>>): ReadonlyMap<string, number> =>
  new Map(
    Object.entries(table).flatMap(([width, letters]) => [...letters].map((one) => [one, Number(width) / 100] as const)),
  );
const widths = {
  plain: new Map([...byLetter(plain), ...byLetter(arabic)]),
  bold: new Map([...byLetter(bold), ...[...byLetter(arabic)].map(([one, width]) => [one, 1.12 * width] as const)]),
};

export type Weight = keyof typeof widths;

/** The most that this text may take, in the unit of `size`. */
export function widthOf(text: string, size: number, weight: Weight): number {
  const known = widths[weight];
  let width = 0;
  for (const letter of text) width += known.get(letter) ?? known.get(letter.normalize('NFD')[0]!) ?? widest;
  return width * size;
}

/** The text in lines of at most `width`, broken at spaces; a word that is wider than a line is broken inside. */
export function wrapped(text: string, width: number, size: number, weight: Weight): readonly string[] {
  const fits = (one: string): boolean => widthOf(one, size, weight) <= width;
  const lines: string[] = [];
  for (const row of text.split('\n')) {
    let line = '';
    for (const word of row.split(' ').flatMap((one) => pieces(one, fits))) {
      const longer = line === '' ? word : `${line} ${word}`;
      if (line === '' || fits(longer)) line = longer;
      else {
        lines.push(line);
        line = word;
      }
    }
    lines.push(line);
  }
  return lines;
}

function pieces(word: string, fits: (one: string) => boolean): readonly string[] {
  if (fits(word)) return [word];
  const all: string[] = [];
  let piece = '';
  for (const letter of word) {
    if (piece !== '' && !fits(piece + letter)) {
      all.push(piece);
      piece = '';
    }
    piece += letter;
  }
  return [...all, piece];
}
