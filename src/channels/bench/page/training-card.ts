/** The patient's card: what is told and found, the lump as it looks, and what lies on the table. */
import type { ScenarioState } from '../training/shown.ts';
import { sayFirst } from '../words.ts';
import { el } from './dom.ts';
import type { Words } from './training.ts';

export function patientCard({ title, lines, picture, table }: ScenarioState['card'], words: Words): HTMLElement {
  const say = (key: string): string => sayFirst(words, [key]);
  const things = table.map((one) => el('li', {}, one));
  return el(
    'section',
    { class: 'training-card', 'aria-label': say('scenario-patient') },
    el('h4', {}, `${say('scenario-patient')}: ${title}`),
    el('ul', {}, ...lines.map((one) => el('li', {}, one))),
    picture === null ? null : el('figure', {}, drawing(picture), el('figcaption', {}, say('scenario-picture'))),
    el('h5', {}, say('scenario-table')),
    things.length > 0 ? el('ul', {}, ...things) : el('p', {}, say('scenario-table-none')),
  );
}

/** What the server drew, as elements: never as HTML of this page. */
function drawing(svg: string): Node {
  return document.importNode(new DOMParser().parseFromString(svg, 'image/svg+xml').documentElement, true);
}
