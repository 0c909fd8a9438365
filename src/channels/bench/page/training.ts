/** Cases to practise: the first one, the list, the one that is played, and its report. */
import type { ListedScenario, ScenarioState } from '../training/shown.ts';
import { sayFirst } from '../words.ts';
import { button, el } from './dom.ts';
import { patientCard } from './training-card.ts';
import { reportSheet } from './training-report.ts';
import { sceneNow, stepsDone } from './training-steps.ts';

export type { ScenarioState } from '../training/shown.ts';

export interface TrainingActions {
  begin(id: string): void;
  auto(how: { readonly on: boolean } | { readonly step: true }): void;
  /** Ends the case with its report; once more: puts the report away. */
  end(): void;
}

export type Words = Readonly<Record<string, string>>;

/** What a container shows, so that the same state is not drawn twice: focus and what was opened would be lost. */
const shown = new WeakMap<HTMLElement, string>();
let list: Promise<readonly ListedScenario[]> | null = null;

/** Draws the case that is played, or where one can be begun. */
export function showTraining(
  container: HTMLElement,
  state: ScenarioState | null,
  actions: TrainingActions,
  words: Words,
): void {
  const key = JSON.stringify(state);
  if (shown.get(container) === key) return;
  shown.set(container, key);
  // Another reset may have brought other people.
  if (state) list = null;
  const kept = keep(container);
  container.classList.add('training');
  container.replaceChildren(...(state ? played(state, actions, words) : toBegin(container, actions, words)));
  kept();
  // Another case, its report, the list: each is read from its top.
  const view = `${state?.id ?? ''} ${state?.report ? 'report' : ''}`;
  if (container.dataset.view !== undefined && container.dataset.view !== view) container.scrollIntoView();
  container.dataset.view = view;
}

function played(state: ScenarioState, actions: TrainingActions, words: Words): readonly Node[] {
  const say = (key: string): string => sayFirst(words, [key]);
  if (state.report) return [reportSheet(state, actions, words)];
  const auto = el('input', { type: 'checkbox', id: 'training-auto', checked: state.auto });
  auto.addEventListener('change', () => actions.auto({ on: auto.checked }));
  return [
    el('h3', {}, state.title),
    el('p', { class: 'training-about' }, state.about),
    ...sceneNow(state, actions, words),
    patientCard(state.card, words),
    ...stepsDone(state, words),
    el(
      'div',
      { class: 'training-row' },
      el('label', { class: 'training-auto' }, auto, ' ', say('scenario-auto')),
      button(say('scenario-end'), () => actions.end(), { id: 'training-end' }),
    ),
  ];
}

/** One button that begins, and the others one step away. */
function toBegin(container: HTMLElement, actions: TrainingActions, words: Words): readonly Node[] {
  const say = (key: string): string => sayFirst(words, [key]);
  const others = el('ul', { class: 'training-list' });
  list ??= fetch('/scenarios').then((answer) => answer.json() as Promise<readonly ListedScenario[]>);
  void list.then(
    (all) => {
      const first = all.find(({ guided }) => guided) ?? all[0];
      if (!container.contains(others) || !first) return;
      begin.dataset.id = first.id;
      begin.disabled = false;
      others.replaceChildren(...all.map((one) => listed(one, actions, words)));
    },
    () => {
      list = null;
    },
  );
  const begin = button(say('scenario-begin'), () => actions.begin(begin.dataset.id ?? ''), {
    class: 'training-begin',
    id: 'training-begin',
    disabled: true,
  });
  return [
    el('p', {}, begin),
    el('p', { class: 'training-about' }, say('scenario-begin-about')),
    el(
      'details',
      // Back from a report: the list is what was asked for.
      { id: 'training-others', open: container.dataset.view?.endsWith(' report') === true },
      el('summary', {}, say('scenario-more')),
      el('p', { class: 'training-about' }, say('scenario-warning')),
      others,
    ),
  ];
}

function listed({ id, title, about, part }: ListedScenario, actions: TrainingActions, words: Words): HTMLElement {
  const say = (key: string): string => sayFirst(words, [key]);
  return el(
    'li',
    {},
    el('h4', { id: `training-title-${id}` }, title),
    el('p', {}, `${about} (${say(`scenario-part-${part}`)})`),
    button(say('scenario-pick'), () => actions.begin(id), {
      id: `training-pick-${id}`,
      'aria-describedby': `training-title-${id}`,
    }),
  );
}

/** Remembers focus and what is opened; gives the way to bring both back. */
function keep(container: HTMLElement): () => void {
  const focused = container.contains(document.activeElement) ? (document.activeElement?.id ?? '') : '';
  const open = new Set([...container.querySelectorAll('details[open]')].map(({ id }) => id));
  return () => {
    for (const one of container.querySelectorAll('details')) if (open.has(one.id)) one.open = true;
    if (focused !== '') document.getElementById(focused)?.focus();
  };
}
