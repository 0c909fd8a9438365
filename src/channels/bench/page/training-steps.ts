/** What is seen now, what comes next, and what was done. */
import type { ScenarioState, ShownEntry } from '../training/shown.ts';
import { sayFirst } from '../words.ts';
import { button, el } from './dom.ts';
import type { TrainingActions, Words } from './training.ts';

/** Steps of the replay that stay in sight while the case is played. */
const inSight = 4;

/** A sign of its own shape for each verdict, so that none is told by its colour. */
const signs: Readonly<Record<ShownEntry['verdict'], string>> = {
  ...{ right: '●', late: '◐', missed: '○', other: '△' },
  aside: '↺',
};

/** The scene and the next step; in a case that is not guided only for whoever asks. */
export function sceneNow(state: ScenarioState, actions: TrainingActions, words: Words): readonly Node[] {
  const say = (key: string, values: Readonly<Record<string, string>> = {}): string => sayFirst(words, [key], values);
  const { scene, next, waits, away, done, of, guided } = state;
  const progress = say('scenario-progress', { done: String(done), of: String(of) });
  const nodes: Node[] = [
    el('p', { class: 'training-progress' }, el('progress', { max: of, value: done, 'aria-label': progress }), progress),
  ];
  if (scene !== '') {
    nodes.push(el('section', { class: 'training-scene' }, el('h4', {}, say('scenario-scene')), el('p', {}, scene)));
  }
  if (next) {
    const step = [
      el('p', {}, say('scenario-next-send', { name: next.name }), ' ', el('kbd', {}, next.send)),
      el('p', { class: 'training-why' }, next.why),
      button(say('scenario-next-do'), () => actions.auto({ step: true }), { id: 'training-do' }),
    ];
    nodes.push(
      guided
        ? el('section', { class: 'training-next' }, el('h4', {}, say('scenario-next-title')), ...step)
        : el(
            'details',
            { class: 'training-next', id: `training-next-${done}` },
            el('summary', {}, say('scenario-next-show')),
            ...step,
          ),
    );
  } else {
    const waiting = waits ? say('scenario-waits', { name: waits.name, when: waits.when }) : say('scenario-quiet');
    nodes.push(el('p', { class: 'training-quiet' }, away ? say('scenario-away') : waiting));
  }
  return nodes;
}

/** The last answers with what is said of them, the newest first. */
export function stepsDone({ log }: ScenarioState, words: Words): readonly Node[] {
  if (log.length === 0) return [];
  const entries = log.slice(-inSight).reverse();
  return [
    el('h4', {}, sayFirst(words, ['scenario-said'])),
    el(
      'ol',
      { class: 'training-log', 'aria-live': 'polite' },
      ...entries.map((one) => el('li', { class: `verdict-${one.verdict}` }, verdictOf(one, words), ' ', said(one))),
    ),
  ];
}

/** `● right`, as a sign and a word. */
export function verdictOf({ verdict }: ShownEntry, words: Words): HTMLElement {
  return el(
    'strong',
    { class: 'training-verdict' },
    `${signs[verdict]} ${sayFirst(words, [`scenario-verdict-${verdict}`])}`,
  );
}

function said({ sent, comment }: ShownEntry): HTMLElement {
  return el('span', {}, el('kbd', {}, sent), ' ', comment);
}
