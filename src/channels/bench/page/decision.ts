/** A decision on the page: each lump drawn, the four rules side by side, and what would change it. */
import type { ChangePicture, DecisionPicture, NodulePicture } from '../../../drawings/decision-picture.ts';
import type { PolicyRow } from '../../../drawings/policy-rows.ts';
import { sayWord, type Words } from '../../../text/say-word.ts';

type Child = Node | string;

/** Draws the decision anew into the container. The drawings are the server's own; all else is set as text. */
export function showDecision(container: HTMLElement, picture: DecisionPicture, words: Words): void {
  container.replaceChildren(
    part('section', 'verdict', heading(picture.title), why(picture, words)),
    ...(picture.nodules.length === 0
      ? [part('p', 'none', sayWord(words, 'picture-no-lump'))]
      : picture.nodules.map((one) => lump(one, words))),
    changes(picture.changes, words),
  );
}

function why({ because }: DecisionPicture, words: Words): HTMLElement {
  return part('p', 'because', part('b', '', `${sayWord(words, 'picture-because')}: `), `${because.join(', ')}.`);
}

function lump(one: NodulePicture, words: Words): HTMLElement {
  const title = one.proposed ? `${one.title}: ${sayWord(words, 'picture-proposed')}` : one.title;
  const drawings = part('div', 'drawings', drawing(one.svg), drawing(one.lanes));
  return part('section', 'lump', heading(title), drawings, table(one.rows, words));
}

/** An SVG of the server, read as a picture and never as a page. */
function drawing(svg: string): HTMLElement {
  const read = new DOMParser().parseFromString(svg, 'image/svg+xml').documentElement;
  return part('figure', '', document.importNode(read, true));
}

function table(rows: readonly PolicyRow[], words: Words): HTMLElement {
  const heads = ['picture-rule', 'picture-level', 'picture-threshold', 'picture-says'].map((key) =>
    sayWord(words, key),
  );
  const head = part('tr', '', ...heads.map((text) => cell('th', text, { scope: 'col' })));
  const body = rows.map((row) => {
    const name = row.governs ? sayWord(words, 'picture-governs', { policy: row.name }) : row.name;
    const graded = [row.level, row.points ?? ''].filter((one) => one !== '').join(', ');
    return part(
      'tr',
      row.governs ? 'governs' : '',
      cell('th', name, { scope: 'row' }),
      cell('td', graded === '' ? sayWord(words, 'picture-no-level') : graded),
      cell('td', row.threshold),
      cell('td', row.says, { class: row.decision }),
    );
  });
  const caption = part('caption', '', sayWord(words, 'picture-rules'));
  const made = part('table', 'rules', caption, part('thead', '', head), part('tbody', '', ...body));
  return part('div', 'wide', made);
}

function cell(tag: 'th' | 'td', text: string, attributes: Readonly<Record<string, string>> = {}): HTMLElement {
  const made = part(tag, '', text);
  for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, value);
  return made;
}

function changes(all: readonly ChangePicture[], words: Words): HTMLElement {
  const list = part(
    'dl',
    '',
    ...all.flatMap(({ to, asked, otherwise }) => [
      part('dt', '', to),
      ...given(asked, sayWord(words, 'picture-changes-asked'), 'asked'),
      ...given(otherwise, sayWord(words, 'picture-changes-otherwise'), 'otherwise'),
    ]),
  );
  const none = part('p', 'none', sayWord(words, 'picture-changes-none'));
  return part('section', 'changes', heading(sayWord(words, 'picture-changes')), all.length === 0 ? none : list);
}

function given(said: readonly string[], lead: string, name: string): readonly HTMLElement[] {
  if (said.length === 0) return [];
  const list = part('ul', '', ...said.map((one) => part('li', '', one)));
  return [part('dd', name, part('span', 'lead', `${lead}:`), list)];
}

const heading = (text: string): HTMLElement => part('h3', '', text);

/** An element with its class and what it holds. */
function part(tag: string, name: string, ...children: readonly Child[]): HTMLElement {
  const made = document.createElement(tag);
  if (name !== '') made.className = name;
  made.append(...children);
  return made;
}
