/** Four policies on one ruler of sizes: where each begins to watch and to sample, and where this lump stands. */
import type { KnownNodule } from '../clinical/known.ts';
import type { Outcome } from '../clinical/policies/policy.ts';
import { sayWord, type Words } from '../text/say-word.ts';
import { escaped, FONTS, short } from './ink.ts';
import { widthOf } from './letters.ts';
import type { PolicyLane } from './policy-rows.ts';

export const laneSize = { width: 360, left: 8, right: 352, top: 34, step: 50, bar: 20 } as const;
const letter = 12;

/** How a stretch is drawn: its tint and its frame, never its tint alone. */
const looks: { readonly [O in Outcome]: { readonly tint: number; readonly frame: string } } = {
  'no-sampling': { tint: 0, frame: 'stroke-width="1"' },
  'follow-up': { tint: 0.1, frame: 'stroke-width="1"' },
  undetermined: { tint: 0, frame: 'stroke-width="1" stroke-dasharray="3 3"' },
  optional: { tint: 0.18, frame: 'stroke-width="2" stroke-dasharray="7 3"' },
  sample: { tint: 0.28, frame: 'stroke-width="2.6"' },
};

/** How much of the ink each kind of stretch takes; words stand on it in the whole ink. */
export const tints: readonly number[] = Object.values(looks).map(({ tint }) => tint);

/** Where the ruler ends, mm: beyond every threshold and beyond the lump. */
function endOf({ size, solidPartMm }: KnownNodule): number {
  return Math.max(30, Math.ceil(((size?.most ?? 0) * 1.2) / 10) * 10, Math.ceil(((solidPartMm ?? 0) * 1.2) / 10) * 10);
}

/** As an SVG of its own; the same is said in its description and, row by row, in `PolicyRow`. */
export function lanesSvg(nodule: KnownNodule, lanes: readonly PolicyLane[], words: Words, id: string): string {
  const end = endOf(nodule);
  const place = (mm: number): number => laneSize.left + (Math.min(mm, end) / end) * (laneSize.right - laneSize.left);
  const foot = laneSize.top + lanes.length * laneSize.step;
  const height = foot + 26;
  const drawn = lanes.map((lane, at) =>
    oneLane(lane, laneSize.top + at * laneSize.step, marksMm(nodule, lane), place, words),
  );
  const description = lanes
    .map(({ row }) =>
      [row.name, row.level, row.points ?? '', row.threshold, row.says].filter((one) => one !== '').join(', '),
    )
    .join('. ');
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${laneSize.width} ${height}" role="img" aria-labelledby="${id}lt ${id}ld" font-family="${FONTS}" font-size="${letter}" fill="currentColor">`,
    `<title id="${id}lt">${escaped(sayWord(words, 'picture-lanes-title'))}</title><desc id="${id}ld">${escaped(description)}.</desc>`,
    ...drawn,
    ruler(end, foot, place, words),
    head(nodule, place, words),
    '</svg>',
  ].join('');
}

/** Neighbours that say the same word are one stretch: what is open in each differs, and is said in the row. */
function stretchesOf({ stretches }: PolicyLane['bySize'], place: (mm: number) => number) {
  const drawn: { from: number; to: number; decision: Outcome }[] = [];
  for (const [at, { fromMm, toMm, decision }] of stretches.entries()) {
    const last = drawn.at(-1);
    if (last?.decision === decision) last.to = place(toMm);
    else drawn.push({ from: at === 0 ? laneSize.left : place(fromMm), to: place(toMm), decision });
  }
  return drawn.filter(({ from, to }) => to > from);
}

/** Where a word stands in its stretch without lying over the marks of the lump; null: it has no room. */
function placeOf(width: number, from: number, to: number, marks: readonly number[]): number | null {
  const free = (left: number): boolean =>
    left >= from + 5 && left + width <= to - 5 && marks.every((mark) => mark < left - 6 || mark > left + width + 6);
  const lefts = [
    (from + to - width) / 2,
    from + 6,
    to - 6 - width,
    ...marks.flatMap((mark) => [mark + 8, mark - 8 - width]),
  ];
  return lefts.find(free) ?? null;
}

function oneLane(
  { row, bySize }: PolicyLane,
  y: number,
  marksMm: readonly number[],
  place: (mm: number) => number,
  words: Words,
): string {
  const { name, governs, level, points } = row;
  const shown = governs ? sayWord(words, 'picture-governs', { policy: name }) : name;
  const bySolid = bySize.of === 'solidPartMm' ? sayWord(words, 'picture-by-solid-part') : '';
  const graded = [level, points ?? '', bySolid].filter((one) => one !== '').join(', ');
  const top = y + 18;
  const marks = marksMm.map(place);
  const stretches = stretchesOf(bySize, place).map(({ from, to, decision }) => {
    const { tint, frame } = looks[decision];
    const said = sayWord(words, `picture-short-${decision}`);
    const heavy = decision === 'sample';
    const left = placeOf(widthOf(said, letter, heavy ? 'bold' : 'plain'), from, to, marks);
    return [
      `<path d="M${short(from + 1)} ${top}H${short(to - 1)}V${top + laneSize.bar}H${short(from + 1)}Z" fill-opacity="${tint}" stroke="currentColor" ${frame}/>`,
      left === null
        ? ''
        : `<text x="${short(left)}" y="${top + 14.5}"${heavy ? ' font-weight="bold"' : ''}>${escaped(said)}</text>`,
    ].join('');
  });
  const standing = marks.map(
    (x) =>
      `<path d="M${short(x)} ${top - 3}V${top + laneSize.bar + 3}" stroke="currentColor" stroke-width="2.2" stroke-dasharray="6 3"/><path d="M${short(x - 5)} ${top - 5}h10l-5 8z"/>`,
  );
  return [
    `<text x="${laneSize.left}" y="${y + 10}" font-weight="bold">${escaped(shown)}</text>`,
    graded === '' ? '' : `<text x="${laneSize.right}" y="${y + 10}" text-anchor="end">${escaped(graded)}</text>`,
    ...stretches,
    ...standing,
  ].join('');
}

function ruler(end: number, y: number, place: (mm: number) => number, words: Words): string {
  const step = [5, 10, 20, 50].find((one) => end / one <= 8) ?? 100;
  const all = Array.from({ length: Math.floor(end / step) + 1 }, (_, at) => at * step);
  const ticks = all.map((mm) => `M${short(place(mm))} ${y}v5`).join('');
  const figures = all.map((mm, at) => {
    const anchor = at === 0 ? 'start' : mm === end ? 'end' : 'middle';
    const text = at === 0 ? `0 ${sayWord(words, 'picture-mm')}` : String(mm);
    return `<text x="${short(place(mm))}" y="${y + 18}" text-anchor="${anchor}">${escaped(text)}</text>`;
  });
  return `<path d="M${laneSize.left} ${y}H${laneSize.right}${ticks}" stroke="currentColor" fill="none"/>${figures.join('')}`;
}

/** Sizes in mm at which the lump stands on a lane: two where its size is not sure, its solid part where that decides. */
function marksMm({ size, solidPartMm }: KnownNodule, { bySize }: PolicyLane): readonly number[] {
  if (bySize.of === 'solidPartMm') return solidPartMm === null ? [] : [solidPartMm];
  return size === null ? [] : [...new Set([size.least, size.most])];
}

/** Which lump it is, over the lanes. */
function head({ size }: KnownNodule, place: (mm: number) => number, words: Words): string {
  const figure = (one: number): string => String(Math.round(one * 10) / 10);
  const unit = sayWord(words, 'picture-mm');
  const said =
    size === null
      ? sayWord(words, 'picture-size-unknown')
      : sayWord(words, 'picture-this-lump', {
          size: `${size.least === size.most ? figure(size.most) : `${figure(size.least)}-${figure(size.most)}`} ${unit}`,
        });
  const half = widthOf(said, letter, 'bold') / 2;
  const middle = size === null ? laneSize.width / 2 : place((size.least + size.most) / 2);
  const x = Math.min(laneSize.right - half, Math.max(laneSize.left + half, middle));
  const points =
    size === null
      ? []
      : [...new Set([size.least, size.most])].map((mm) => `<path d="M${short(place(mm) - 5)} 18h10l-5 8z"/>`);
  return `<text x="${short(x)}" y="13" text-anchor="middle" font-weight="bold">${escaped(said)}</text>${points.join('')}`;
}
