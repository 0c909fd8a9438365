/** People as outlines: how somebody lies, sits and is helped. */
import {
  arrow,
  box,
  circle,
  curve,
  type Drawing,
  type Ink,
  joined,
  lines,
  oval,
  path,
  placed,
  sign,
} from '../../drawings/ink.ts';

/** A head in profile, upright and facing right, its middle at the origin, about 16 across. `mouth` open for hard breathing. */
function head({
  eyes = 'open',
  mouth = 'closed',
  bun = false,
}: {
  eyes?: 'open' | 'closed';
  mouth?: 'open' | 'closed';
  bun?: boolean;
} = {}): Ink {
  return [
    bun ? circle(-9, -3, 3.6, { fill: 'dark' }) : '',
    path('M-1 8C-6 8 -8 4 -8 0C-8 -5 -4 -8 0 -8C5 -8 7.6 -5 7.6 -2L10 2.2L7.6 2.8L7.6 5.4Q7 8.4 3 8Z', {
      fill: 'white',
    }),
    path('M-1 4C-6 6 -8 3 -8 0C-8 -5 -4 -8 0 -8C4 -8 6.4 -6.4 7.2 -4Q1 -5 0 -1Q0 2 -1 4Z', { fill: 'dark' }),
    eyes === 'open'
      ? circle(5, -1.4, 0.6, { fill: 'black', width: 0.4 })
      : path('M3.6 -1.4Q5 -0.4 6.2 -1.4', { width: 0.7 }),
    mouth === 'open' ? oval(6.6, 4.8, 1.2, 1.5, { fill: 'black', width: 0.4 }) : path('M5.4 5L7.6 4.8', { width: 0.6 }),
  ].join('');
}

/** A couch from the side, its top at y = 0, from x = 0 on. */
function couch(width: number): Ink {
  return [
    box(6, 4, 5, 14, { fill: 'white' }),
    box(width - 11, 4, 5, 14, { fill: 'white' }),
    box(0, 0, width, 5, { fill: 'light', round: 2 }),
  ].join('');
}

/** On the back, a folded cloth under the shoulders, the neck a little back. */
export const flatOnBack: Drawing = {
  width: 120,
  height: 62,
  ink: [
    placed(couch(116), 2, 42),
    joined([{ along: '28,31.5 20,33', width: 7.5 }]),
    placed(head({ eyes: 'closed' }), 13, 32.5, { turn: -104 }),
    // The cloth, in folds.
    box(25, 37.5, 20, 5, { fill: 'middle', round: 2 }),
    lines('27,40 43,40', { width: 0.5 }),
    joined(
      [
        { along: '34,30.5 48,31 66,34', width: 15 },
        { along: '66,35 88,36 108,37.5', width: 10 },
        { along: '110,38 113,29', width: 5.5 },
      ],
      {
        open: [{ along: '34,31 26,31.6', width: 7.5 }],
      },
    ),
    joined([{ along: '38,31 52,37 68,37', width: 5.6 }]),
  ].join(''),
};

/** Fainted: flat on the back, legs up. */
export const legsUp: Drawing = {
  width: 120,
  height: 66,
  ink: [
    placed(couch(116), 2, 46),
    joined([{ along: '26,39 20,39', width: 7.5 }]),
    placed(head({ eyes: 'closed' }), 13, 37.6, { turn: -90 }),
    box(88, 27, 26, 9.4, { fill: 'middle', round: 3 }),
    box(88, 36.4, 26, 9.4, { fill: 'middle', round: 3 }),
    joined(
      [
        { along: '32,37.5 46,38 64,38.5', width: 15 },
        { along: '64,39 84,28 106,19', width: 10 },
        { along: '108,18 105,9', width: 5.5 },
      ],
      {
        open: [{ along: '34,38.6 24,39', width: 7.5 }],
      },
    ),
    joined([{ along: '36,39 50,43 64,43', width: 5.6 }]),
    arrow('82,20 82,6', { width: 2.4, head: 7 }),
  ].join(''),
};

/** A bed from above, the head's end at the top. */
function bedFromAbove(): Ink {
  return box(8, 2, 64, 96, { fill: 'white', round: 4 }) + box(20, 5, 40, 18, { fill: 'light', round: 4, width: 0.6 });
}

/** Pregnant, on her left side: the bed is seen from above. */
export const leftSide: Drawing = {
  width: 80,
  height: 100,
  ink: [
    bedFromAbove(),
    // The arm and the leg she lies on.
    joined([{ along: '36,30 50,30 60,24', width: 5.4 }]),
    joined([
      { along: '34,62 50,72 46,92', width: 8 },
      { along: '46,93 53,94', width: 5 },
    ]),
    joined([{ along: '33,22 33,28', width: 7 }]),
    placed(head({ eyes: 'closed', bun: true }), 34, 15),
    joined(
      [
        { along: '33,34 31.5,46 33,60', width: 16 },
        { along: '34,61 55,64', width: 11 },
        { along: '55,64 40,84', width: 8.6 },
        { along: '39,86 46,88', width: 5 },
        { along: '40,48', width: 20 },
      ],
      {
        open: [{ along: '33,34 33,26', width: 7 }],
      },
    ),
    circle(41.4, 48, 6.6, { fill: 'middle', width: 0 }),
    joined([{ along: '33,33 37,45 50,40', width: 5.6 }]),
  ].join(''),
};

/** Pregnant, on her back with a folded cloth under the right hip, so that she tilts to the left: the bed from above. */
export const tilted: Drawing = {
  width: 80,
  height: 100,
  ink: [
    bedFromAbove(),
    // The cloth looks out under her right hip, which is on the left of who looks down at her face.
    box(13, 50, 26, 15, { fill: 'middle', round: 3 }),
    lines('15,55 30,55', { width: 0.5 }),
    lines('15,60 30,60', { width: 0.5 }),
    circle(40, 6.6, 3.4, { fill: 'dark' }),
    joined([
      { along: '30,33 22,42 21,52', width: 5.6 },
      { along: '50,33 59,45 59,58', width: 5.6 },
      { along: '31.5,32 48.5,32', width: 7.5 },
      { along: '40,24 40,36', width: 7 },
      { along: '36,36 36,60', width: 14 },
      { along: '44,36 44,60', width: 14 },
      { along: '35.5,62 37,80 37,92', width: 9.4 },
      { along: '46,62 48,80 48,92', width: 9.4 },
    ]),
    frontHead(40, 15),
    circle(42, 50, 10.5, { fill: 'middle' }),
    arrow('26,43 34,35.5 46,35 56,42', { width: 2.2, head: 6.5 }),
  ].join(''),
};

/** A face from the front, asleep. */
function frontHead(x: number, y: number): Ink {
  return [
    oval(x, y, 7.4, 8.4, { fill: 'white' }),
    path(
      `M${x - 7.4} ${y}C${x - 8} ${y - 10} ${x + 8} ${y - 10} ${x + 7.4} ${y}Q${x + 4} ${y - 4.5} ${x} ${y - 4}Q${x - 4} ${y - 4.5} ${x - 7.4} ${y}Z`,
      { fill: 'dark' },
    ),
    path(`M${x - 4} ${y + 0.6}Q${x - 2.6} ${y + 1.6} ${x - 1.4} ${y + 0.6}`, { width: 0.6 }),
    path(`M${x + 1.4} ${y + 0.6}Q${x + 2.6} ${y + 1.6} ${x + 4} ${y + 0.6}`, { width: 0.6 }),
    path(`M${x - 1.8} ${y + 5}Q${x} ${y + 5.8} ${x + 1.8} ${y + 5}`, { width: 0.6 }),
  ].join('');
}

/** Pregnant, half sitting: her back leans, her knees are bent. */
export const halfSitting: Drawing = {
  width: 120,
  height: 78,
  ink: [
    placed(box(-26, -2.5, 48, 5, { fill: 'light', round: 2 }), 34, 42, { turn: 45 }),
    placed(couch(72), 46, 58),
    joined([{ along: '31,27 26,20', width: 7.5 }]),
    placed(head({ eyes: 'open', bun: true }), 25, 13, { turn: -30 }),
    joined(
      [
        { along: '36,33 46,43 56,50', width: 16 },
        { along: '57,51 78,38', width: 10.5 },
        { along: '78,38 98,52', width: 9 },
        { along: '99,53 104,47', width: 5 },
        { along: '52,38', width: 21 },
      ],
      {
        open: [{ along: '36,33 29,24', width: 7.5 }],
      },
    ),
    circle(53, 37, 6.8, { fill: 'middle', width: 0 }),
    joined([{ along: '37,34 40,48 54,52', width: 5.6 }]),
  ].join(''),
};

/** Somebody who sits on a chair, facing right; the seat at (34, 60). `lean`: forward, for hard breathing. */
function sitting(lean: boolean, neck: Ink): Ink {
  const to = lean ? 8 : 0;
  return [
    lines('22,92 22,34', { width: 2.2 }),
    lines('20,66 52,66', { width: 2.2 }),
    lines('50,66 50,92', { width: 2.2 }),
    joined([{ along: `${34 + to},30 ${35 + to},22`, width: 7.5 }]),
    placed(head(lean ? { mouth: 'open' } : {}), 36 + to * 1.2, 14, { turn: lean ? 12 : 0 }),
    joined(
      [
        { along: `${34 + to},36 ${33 + to / 2},46 33,57`, width: 16 },
        { along: '34,59 58,59', width: 10.5 },
        { along: '58,59 58,86', width: 8.6 },
        { along: '58,89 66,89', width: 5.4 },
      ],
      { open: [{ along: `${34 + to},36 ${35 + to},25`, width: 7.5 }] },
    ),
    joined([{ along: lean ? '41,35 48,46 58,53' : '33,35 36,48 50,52', width: 5.8 }]),
    neck,
  ].join('');
}

/** The neck swells or bleeds: sitting up, somebody presses the place hard with gauze. */
export const pressSittingUp: Drawing = {
  width: 120,
  height: 96,
  ink: [
    sitting(false, oval(41, 26, 4.5, 4.8, { fill: 'middle', width: 0.8 })),
    // Who helps stands in front.
    joined([{ along: '96,24 96,18', width: 7.5 }]),
    placed(head(), 96, 10, { mirror: true }),
    joined(
      [
        { along: '97,31 97,54', width: 16 },
        { along: '94,56 93,88', width: 9 },
        { along: '100,56 102,88', width: 9 },
        { along: '92,91 87,91', width: 5 },
      ],
      {
        open: [{ along: '97,31 96,21', width: 7.5 }],
      },
    ),
    joined([{ along: '96,30 78,36 53,27.5', width: 6 }]),
    box(44, 21.5, 5, 11, { fill: 'white', width: 1 }),
    joined([{ along: '54,28 51,27', width: 6.4 }]),
    arrow('76,24 58,19', { width: 2.2, head: 6.5 }),
  ].join(''),
};

/** Hard breathing: sits up and goes to the hospital at once, not alone. */
export const sitAndGo: Drawing = {
  width: 160,
  height: 96,
  ink: [
    sitting(true, ''),
    ...[12, 19, 26].map((y) => curve(`65,${y} 68,${y - 1.4} 71,${y + 1.4} 74,${y}`, { width: 0.9 })),
    arrow('80,58 102,58', { width: 3.2, head: 9 }),
    // The hospital.
    box(110, 24, 46, 68, { fill: 'white', width: 1.2 }),
    box(122, 6, 22, 18, { fill: 'white', width: 1.2 }),
    sign(133, 20, 15, 'H'),
    ...[0, 1].flatMap((row) =>
      [0, 1, 2].map((column) => box(115 + column * 14, 31 + row * 15, 8, 9, { fill: 'light', width: 0.6 })),
    ),
    box(126, 70, 14, 22, { fill: 'dark' }),
    lines('104,92 160,92', { width: 1.2 }),
  ].join(''),
};
