/**
 * The jar against the seconds, an exercise of the hand: from the smear on, a slide must be in the fixative within a few
 * seconds. It runs in real time, and tells nothing to the line: what is reported is written on the phone.
 */
import { dial } from './dial.ts';
import { button, draw, el } from './dom.ts';
import type { Say } from './words.ts';

export interface JarOptions {
  readonly say: Say;
  /** Within this a smear stays wet, s. */
  readonly seconds: number;
  /** Slides of the specimen. */
  readonly slides: number;
}

const frameMs = 100;

export function jarObject({ say, seconds, slides }: JarOptions): HTMLElement {
  const ring = dial(say('page-jar-dial', { seconds }));
  const inJar: number[] = [];
  let began = 0;
  let timer: number | null = null;
  const lines = el('ol', { class: 'dropped' });
  const row = draw('g', {});
  const jar = draw(
    'svg',
    { viewBox: '0 0 120 110', class: 'jar', 'aria-hidden': 'true' },
    draw('path', { d: 'M22 18H98V96Q98 104 90 104H30Q22 104 22 96Z', class: 'jar-glass' }),
    draw('path', { d: 'M24 44H96V96Q96 102 90 102H30Q24 102 24 96Z', class: 'jar-alcohol' }),
    row,
    draw('rect', { x: 18, y: 8, width: 84, height: 10, rx: 3, class: 'jar-lid' }),
  );
  const show = (): void => {
    const left = began === 0 ? seconds : seconds - (performance.now() - began) / 1000;
    ring.turn(left, seconds, `${Math.abs(left).toFixed(1)} s`);
  };
  const press = button(say('page-jar-smear', { n: 1 }), () => (began === 0 ? smear() : drop()), { class: 'act' });
  const again = button(say('page-jar-again'), () => begin());
  const result = el('p', { class: 'jar-result', role: 'status' });

  function smear(): void {
    began = performance.now();
    press.textContent = say('page-jar-drop', { n: inJar.length + 1 });
    timer = window.setInterval(show, frameMs);
  }
  function drop(): void {
    const took = (performance.now() - began) / 1000;
    stop();
    inJar.push(took);
    const isWet = took <= seconds;
    const x = 30 + inJar.length * 8;
    row.append(draw('rect', { x, y: 50, width: 5, height: 48, class: isWet ? 'jar-slide' : 'jar-slide late' }));
    const values = { n: inJar.length, seconds: took.toFixed(1) };
    lines.append(el('li', {}, say(isWet ? 'page-jar-wet' : 'page-jar-late', values)));
    const isDone = inJar.length >= slides;
    again.hidden = false;
    press.hidden = isDone;
    press.textContent = say('page-jar-smear', { n: inJar.length + 1 });
    const digits = inJar.map((one) => (one <= seconds ? '6' : '7')).join('');
    result.textContent = isDone ? say('page-jar-digits', { digits }) : '';
    if (isDone) again.focus();
    show();
  }
  function stop(): void {
    if (timer !== null) window.clearInterval(timer);
    timer = null;
    began = 0;
  }
  function begin(): void {
    stop();
    inJar.length = 0;
    row.replaceChildren();
    lines.replaceChildren();
    result.textContent = '';
    press.hidden = false;
    again.hidden = true;
    press.textContent = say('page-jar-smear', { n: 1 });
    show();
  }
  begin();
  return el(
    'div',
    { class: 'jar-game' },
    el('div', { class: 'jar-scene' }, jar, ring.box),
    press,
    again,
    lines,
    result,
  );
}
