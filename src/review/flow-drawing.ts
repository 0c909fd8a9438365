import { escaped } from '../drawings/ink.ts';
import { type Arrow, type Lane, lanesOf, leadsOn, type Step } from './flow-steps.ts';

/** Height within a row at which a line leaves it and comes in, and how far lines are apart, mm. */
const heights = { out: 6, into: 3 } as const;
const apart = 2;

/** A flow as boxes one below the other, lines beside them, and each way out in words; rows may fall on different pages. */
export function flowDrawing(flow: string, steps: readonly Step[]): string {
  const lanes = lanesOf(steps);
  const columns = Math.max(0, ...lanes.map(({ column }) => column + 1));
  const rows = steps.map((step, row) => {
    const lines = lanes.filter(({ first, last }) => first <= row && row <= last).map((lane) => lineIn(lane, row));
    const next = step.arrows.some(({ to }) => to !== null && leadsOn(step, to));
    return [
      `<div class="step" id="${anchorOf(flow, step)}">`,
      `<div class="lanes" style="width:${columns * apart + 3}mm">${lines.join('')}</div>`,
      `<div class="box${step.isLast ? ' last' : ''}${next ? ' next' : ''}">${boxOf(step)}</div>`,
      `<ul class="ways">${step.arrows.map((arrow) => wayOf(flow, step, arrow, steps)).join('')}</ul>`,
      '</div>',
    ].join('');
  });
  return `<div class="flow">${rows.join('\n')}</div>`;
}

function boxOf({ number, name, does, isFirst, isLast }: Step): string {
  const marks = [...(isFirst ? ['begins here'] : []), ...(isLast ? ['ends here'] : [])];
  const title = `<b>${number === 0 ? '' : `${number} `}${escaped(name)}</b>`;
  return [title, ...[...marks, ...does].map((one) => `<span>${escaped(one)}</span>`)].join('');
}

function wayOf(flow: string, from: Step, { on, notes, to }: Arrow, steps: readonly Step[]): string {
  const target = steps.find(({ number }) => number !== 0 && number === to);
  const stays = target === from ? 'stays here' : 'stays where it is';
  const where =
    target && target !== from ? `${target.number} ${target.name}` : to === null && from.number > 0 ? '' : stays;
  const link = target ? `<a href="#${anchorOf(flow, target)}">${escaped(where)}</a>` : escaped(where);
  const along = notes.length === 0 ? '' : ` <small>${escaped(notes.join('; '))}</small>`;
  return `<li>${escaped(on)} &rarr; ${link}${along}</li>`;
}

function anchorOf(flow: string, step: Step): string {
  return escaped(`step-${flow}-${step.number}`);
}

/** The part of a line that stands in one row: down through it, and across to the box where it begins or ends there. */
function lineIn({ column, first, last, to, from }: Lane, row: number): string {
  const right = column * apart + 2;
  const isSource = from.includes(row);
  const height = row === to ? heights.into : heights.out;
  const top = row === first ? `${height}mm` : '0';
  const end = row === last ? `height:${height}mm` : 'bottom:0';
  const down = `<i style="right:${right}mm;top:${top};${end}"></i>`;
  const across = (at: number, kind: string) => `<u class="${kind}" style="width:${right}mm;top:${at}mm"></u>`;
  return down + (row === to ? across(heights.into, 'into') : '') + (isSource ? across(heights.out, 'out') : '');
}
