/** The tables of a Markdown text: each row by the words of its heading. A bar within a cell is written `\|`. */
export function tableRows(markdown: string): readonly Readonly<Record<string, string>>[] {
  const rows: Record<string, string>[] = [];
  let heading: readonly string[] | null = null;
  for (const line of markdown.split('\n')) {
    if (!line.startsWith('|')) heading = null;
    else if (heading === null) heading = cellsOf(line);
    else if (!/^[|\s:-]+$/.test(line)) {
      const cells = cellsOf(line);
      rows.push(Object.fromEntries(heading.map((word, place) => [word, cells[place] ?? ''])));
    }
  }
  return rows;
}

function cellsOf(line: string): readonly string[] {
  return line
    .trim()
    .slice(1, -1)
    .split(/(?<!\\)\|/)
    .map((cell) => cell.replaceAll('\\|', '|').trim());
}
