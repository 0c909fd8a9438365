/** The report at the end: to read, to print and to save for the coordinator. */
import type { ScenarioState, ShownEntry } from '../training/shown.ts';
import { sayFirst } from '../words.ts';
import { button, el } from './dom.ts';
import type { TrainingActions, Words } from './training.ts';
import { verdictOf } from './training-steps.ts';

export function reportSheet(state: ScenarioState, actions: TrainingActions, words: Words): HTMLElement {
  const say = (key: string, values: Readonly<Record<string, string>> = {}): string => sayFirst(words, [key], values);
  const { report, title, id } = state;
  const { lines = [] } = report ?? {};
  const sum = sumOf(state, words);
  const name = el('input', { id: 'training-name', type: 'text', autocomplete: 'off', maxlength: 60 });
  const head = ['when', 'sent', 'verdict', 'comment'].map((one) =>
    el('th', { scope: 'col' }, say(`scenario-report-${one}`)),
  );
  return el(
    'article',
    { class: 'training-report', 'aria-label': say('scenario-report') },
    el('h3', { tabindex: -1, id: 'training-report' }, `${say('scenario-report')}: ${title}`),
    el('p', { class: 'training-sum', role: 'status' }, sum),
    el('p', {}, el('label', {}, say('scenario-report-name'), ' ', name)),
    el('p', { class: 'training-about' }, say('scenario-report-for')),
    el(
      'div',
      { class: 'training-row no-print' },
      button(say('scenario-print'), () => printReport(), { id: 'training-print' }),
      button(say('scenario-save'), () => save(asText(state, name.value, words), `${id}.txt`), { id: 'training-save' }),
      button(say('scenario-again'), () => actions.begin(id), { id: 'training-again' }),
      button(say('scenario-leave'), () => actions.end(), { id: 'training-leave' }),
    ),
    el('table', {}, el('thead', {}, el('tr', {}, ...head)), el('tbody', {}, ...lines.map((one) => row(one, words)))),
  );
}

function row(entry: ShownEntry, words: Words): HTMLElement {
  const sent = entry.sent === '' ? sayFirst(words, ['scenario-sent-nothing']) : el('kbd', {}, entry.sent);
  return el(
    'tr',
    { class: `verdict-${entry.verdict}` },
    el('td', {}, entry.when),
    el('td', {}, sent),
    el('td', {}, verdictOf(entry, words)),
    el('td', {}, entry.comment),
  );
}

function sumOf({ report }: ScenarioState, words: Words): string {
  const { right = 0, late = 0, missed = 0, lines = [] } = report ?? {};
  const other = lines.filter(({ verdict }) => verdict === 'other').length;
  const sum = sayFirst(words, ['scenario-report-sum'], {
    right: String(right),
    late: String(late),
    missed: String(missed),
  });
  if (other > 0) return `${sum} ${sayFirst(words, ['scenario-report-other'], { n: String(other) })}`;
  return late + missed === 0 ? `${sayFirst(words, ['scenario-report-all'])} ${sum}` : sum;
}

/** The report alone, whatever else the page shows. */
function printReport(): void {
  document.body.classList.add('print-report');
  window.addEventListener('afterprint', () => document.body.classList.remove('print-report'), { once: true });
  window.print();
}

/** The same as plain lines. */
function asText(state: ScenarioState, name: string, words: Words): string {
  const say = (key: string): string => sayFirst(words, [key]);
  const lines = (state.report?.lines ?? []).map(({ when, sent, verdict, comment }) =>
    [when, sent === '' ? say('scenario-sent-nothing') : sent, say(`scenario-verdict-${verdict}`), comment].join('\t'),
  );
  const head = [
    `${say('scenario-report')}: ${state.title}`,
    `${say('scenario-report-name')}: ${name}`,
    sumOf(state, words),
    say('scenario-report-for'),
    '',
  ];
  return `${[...head, ...lines].join('\n')}\n`;
}

function save(text: string, name: string): void {
  const url = URL.createObjectURL(new Blob([text], { type: 'text/plain;charset=utf-8' }));
  const link = el('a', { href: url, download: name });
  link.click();
  URL.revokeObjectURL(url);
}
