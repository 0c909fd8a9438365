import type { CheckRegistry } from '../content/check-registry.ts';
import { formOfKey, voiceOfKey } from '../content/texts.ts';
import { escaped } from '../drawings/ink.ts';
import type { Written } from './entry.ts';
import type { Pair } from './pairs.ts';
import { type ScreenShown, screensShown } from './screens-shown.ts';

/** What a row needs besides its pair. */
export interface RowOf {
  /** The language beside English; null = none, its column is room to write. */
  readonly beside: string | null;
  readonly registry: CheckRegistry;
  /** Where texts are said, by key. */
  readonly places: ReadonlyMap<string, readonly string[]>;
}

/** Between two screens in a field to write in, on a line of its own. */
export const screenRule = '===';

/** One text in two columns, what may be changed about it, and room for a pen. */
export function textRow(pair: Pair, of: RowOf): string {
  const { key, kind, english, other } = pair;
  const places = of.places.get(key) ?? [];
  const head = [
    `<code>${escaped(key)}</code>`,
    ...[voiceWords(key), ...places].filter((one) => one !== '').map(escaped),
  ];
  const own = of.beside === null ? english : other;
  const isOpen = kind !== 'kept' && (of.beside !== null || english !== null);
  const was = isOpen ? ` data-was="${escaped(JSON.stringify(own))}"` : '';
  const from = isOpen && of.beside !== null ? ` data-english="${escaped(JSON.stringify(english))}"` : '';
  const isRoom = kind !== 'kept' && (of.beside === null || other === null);
  const right = isRoom ? '<div class="room"></div>' : other === null ? '' : wordsShown(pair, other, of);
  return [
    `<article id="${anchorOf(key)}" data-key="${escaped(key)}" data-kind="${kind}"${was}${from}>`,
    `<h4>${head.join(' &middot; ')}</h4>`,
    `<div class="two"><div lang="en">${english === null ? '-' : wordsShown(pair, english, of)}</div>`,
    `<div class="own" dir="auto"${of.beside === null ? '' : ` lang="${escaped(of.beside)}"`}>${right}</div></div>`,
    isOpen ? changeField(pair, own, of) : '',
    isOpen ? penLine(isRoom) : '',
    '</article>',
  ].join('');
}

export function anchorOf(key: string): string {
  return escaped(`text-${key.replaceAll(' ', '_')}`);
}

/** For a pen; where there is room to write it is not asked for again. */
function penLine(isRoom: boolean): string {
  const right = '&#9744; right as it is';
  return isRoom ? `<p class="pen">${right}</p>` : `<p class="pen wide">${right} &nbsp; &#9744; change to:</p>`;
}

function voiceWords(key: string): string {
  const form = formOfKey(key);
  const brief = voiceOfKey(key) === 'brief' ? 'the brief voice' : '';
  return [brief, form === null ? '' : `for the number form "${form}"`].filter((one) => one !== '').join(', ');
}

function wordsShown({ key, kind }: Pair, written: Written, { registry, places }: RowOf): string {
  if (kind === 'text') return screensShown(written, registry, places.has(key)).map(screenOf).join('');
  if (kind === 'words' && typeof written === 'string') {
    const [first = '', ...more] = written.split('|').map(escaped);
    return `<p class="words"><b>${first}</b>${more.map((one) => `, ${one}`).join('')}</p>`;
  }
  return `<p class="words">${escaped(typeof written === 'string' ? written : written.join(', '))}</p>`;
}

function screenOf({ words, units, room, segments }: ScreenShown): string {
  const parts = segments === 1 ? '' : `, ${segments} messages`;
  return `<div class="screen"><p>${escaped(words)}</p><small>${units} of ${room}${parts}</small></div>`;
}

function changeField({ key, kind, english }: Pair, own: Written | null, { beside }: RowOf): string {
  const name = escaped(key);
  const source = beside === null || english === null ? '' : `<pre lang="en">${escaped(inLines(kind, english))}</pre>`;
  const live = kind === 'text' ? '<div class="live"></div>' : '';
  const language = beside === null ? 'en' : escaped(beside);
  return [
    '<details><summary>Change</summary>',
    source,
    // A parser drops the first line break of a field.
    `<textarea aria-label="${name} becomes" dir="auto" lang="${language}" rows="4">\n${own === null ? '' : escaped(inLines(kind, own))}</textarea>`,
    live,
    `<label>Why, or a remark: <input aria-label="${name} remark" class="note"></label>`,
    '</details>',
  ].join('');
}

function inLines(kind: Pair['kind'], written: Written): string {
  return typeof written === 'string' ? written : written.join(kind === 'list' ? '\n' : `\n${screenRule}\n`);
}
