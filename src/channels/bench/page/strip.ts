/** Draws where the patients are: the newest open case as a band across the page, every other one in a line that opens. */
import { clockWords, dayWordsAt } from '../../../text/time-words.ts';
import type { CaseStrip, StripStep } from '../strip/strip.ts';
import { el, unseen } from './dom.ts';
import { type Say, sayOf } from './words.ts';

/** What stands in each container, so that drawing the same again moves nothing. */
const drawn = new WeakMap<HTMLElement, string>();

/**
 * Puts the strips in, in their order (newest first, open before closed). `words`: those of the page, by key. Lines that
 * were open stay open, and the focus stays where it was.
 */
export function showStrip(
  container: HTMLElement,
  strips: readonly CaseStrip[],
  words: Readonly<Record<string, string>>,
): void {
  const said = JSON.stringify([strips, words]);
  if (drawn.get(container) === said) return;
  drawn.set(container, said);
  const say = sayOf(words);
  const open = new Set([...container.querySelectorAll<HTMLElement>('details[open]')].map((one) => one.dataset.case));
  const focused = focusIn(container);
  const [first, ...others] = strips;
  container.classList.add('strips');
  container.replaceChildren(
    first ? large(first, say) : el('p', { class: 'strip-none' }, say('strip-none')),
    ...(others.length > 0 ? [lines(others, open, say)] : []),
  );
  if (focused) container.querySelector<HTMLElement>(focused)?.focus({ preventScroll: true });
}

/** Where the focus is, as a selector that finds the same again; null = elsewhere. */
function focusIn(container: HTMLElement): string | null {
  const at = document.activeElement;
  if (!at || !container.contains(at)) return null;
  const id = at.closest<HTMLElement>('[data-case]')?.dataset.case;
  return id === undefined ? null : `[data-case="${CSS.escape(id)}"] > summary`;
}

function large(strip: CaseStrip, say: Say): HTMLElement {
  const title = el('h3', { class: 'strip-title' }, say('strip-patient', { tag: strip.tag }));
  return el(
    'section',
    { class: 'strip-large', 'aria-label': say('strip-patient', { tag: strip.tag }) },
    el('div', { class: 'strip-head' }, title, ...marks(strip, say)),
    band(strip, say),
    turn(strip, say),
  );
}

function lines(strips: readonly CaseStrip[], open: ReadonlySet<string | undefined>, say: Say): HTMLElement {
  const each = strips.map((strip) =>
    el(
      'details',
      { 'data-case': strip.caseId, open: open.has(strip.caseId) },
      el('summary', {}, el('strong', {}, strip.tag), ...marks(strip, say), ...inShort(strip, say)),
      band(strip, say),
      turn(strip, say),
    ),
  );
  const title = el('h3', { class: 'strip-title' }, say('strip-others'));
  return el('section', { class: 'strip-others', 'aria-label': say('strip-others') }, title, ...each);
}

/** The step that is now, who holds it and until when, for a line. */
function inShort({ steps, holder, until, zone }: CaseStrip, say: Say): readonly HTMLElement[] {
  const now = steps.find((one) => one.state === 'now');
  if (!now || holder === null || until === null) return [];
  const held = say('strip-line', { name: holder.name, when: whenOf(until, zone, say) });
  return [el('span', { class: 'strip-at' }, say(`strip-step-${now.id}`)), el('span', { class: 'strip-who' }, held)];
}

/** What stands beside the tag: the code, and what kind of case it is. */
function marks(strip: CaseStrip, say: Say): readonly HTMLElement[] {
  return [
    ...(strip.code === null ? [] : [el('span', { class: 'strip-code' }, strip.code)]),
    ...(strip.practice ? [el('span', { class: 'strip-mark' }, say('strip-practice'))] : []),
    ...(strip.closed ? [el('span', { class: 'strip-mark' }, say('strip-closed'))] : []),
  ];
}

function band(strip: CaseStrip, say: Say): HTMLElement {
  let day = '';
  const cells = strip.steps.map((step) => {
    const own = step.at === null ? day : dayOf(step.at, strip.zone, say);
    const isNew = own !== day;
    day = own;
    return cell(step, strip.zone, isNew ? own : '', say);
  });
  return el('ol', { class: 'strip-band', 'aria-label': say('strip-steps', { tag: strip.tag }) }, ...cells);
}

/** One step. Its state is said in words too: no colour and no line alone. `day`: where it is another one than before. */
function cell({ id, state, at }: StripStep, zone: string, day: string, say: Say): HTMLElement {
  const said = say(`strip-state-${state}`);
  const when = at === null ? null : [day, clockWords(at, zone)].filter((one) => one !== '').join(' ');
  return el(
    'li',
    { class: `strip-step is-${state}`, 'aria-current': state === 'now' ? 'step' : false },
    el('span', { class: 'strip-name' }, say(`strip-step-${id}`)),
    when === null ? null : unseen(`${said} `),
    el('span', { class: 'strip-state' }, when ?? said),
  );
}

/** Whose turn, until when, and what then; nothing for a closed case. */
function turn({ holder, until, zone, ifNobody }: CaseStrip, say: Say): HTMLElement | null {
  if (holder === null || until === null) return null;
  const pair = (word: string, value: string): HTMLElement => el('div', {}, el('dt', {}, word), el('dd', {}, value));
  return el(
    'dl',
    { class: 'strip-turn' },
    pair(say('strip-holds'), say('strip-holder', { name: holder.name, role: say(`page-role-${holder.role}`) })),
    pair(say('strip-until'), whenOf(until, zone, say)),
    pair(say('strip-if-nobody'), ifNobody),
  );
}

function dayOf(at: number, zone: string, say: Say): string {
  return dayWordsAt(at, zone, say('strip-months').split(' '));
}

function whenOf(at: number, zone: string, say: Say): string {
  return `${dayOf(at, zone, say)} ${clockWords(at, zone)}`;
}
