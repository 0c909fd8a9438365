/** Hands at the neck: how the lump is held, and the needle. */
import { circle, crossedOut, curve, type Drawing, type Ink, joined, path, placed } from '../../drawings/ink.ts';
import { needle, syringe } from './tools.ts';

/** A neck from the front, chin to collarbones, about 100 x 78. */
function neck(): Ink {
  return [
    // Shoulders and neck.
    path('M-1 64C10 61 20 58 24 50C28 41 28 30 26 15', {}),
    path('M101 64C90 61 80 58 76 50C72 41 72 30 74 15', {}),
    // Jaw, over the neck.
    path('M17 0C19 16 38 27 50 27C62 27 81 16 83 0', { fill: 'white' }),
    // Mouth and the dent above the chin.
    path('M40 7Q45 4 50 6Q55 4 60 7Q50 14 40 7Z', { fill: 'light', width: 0.6 }),
    path('M40 7Q50 9 60 7', { width: 0.6 }),
    path('M45 17Q50 15 55 17', { width: 0.6 }),
    // Collarbones and the notch between them.
    path('M46 72C40 64 28 64 8 68', { width: 0.6 }),
    path('M54 72C60 64 72 64 92 68', { width: 0.6 }),
    path('M46 72Q50 75 54 72', { width: 0.6 }),
  ].join('');
}

function lump(x: number, y: number, size: number): Ink {
  return (
    circle(x, y, size, { fill: 'middle' }) +
    path(`M${x - size * 0.55} ${y - size * 0.1}A${size * 0.6} ${size * 0.6} 0 0 1 ${x} ${y - size * 0.6}`, {
      width: 0.8,
      colour: 'white',
    })
  );
}

/** Nail of a finger whose tip points to the left. */
function nail(x: number, y: number, turn: number): Ink {
  return placed(path('M-2.6 0C-2.6 -1.8 1.8 -2 1.8 -1.6L1.8 1.6C1.8 2 -2.6 1.8 -2.6 0Z', { width: 0.45 }), x, y, {
    turn,
  });
}

function twoFingerHand(): Ink {
  return [
    // Ring and little finger are bent away: only their knuckles show.
    joined([{ along: '96,65 87,68.5', width: 8 }]),
    joined([{ along: '94,59 82,62.5', width: 8.4 }]),
    // Back of the hand with index and middle finger.
    joined(
      [
        { along: '91,44 76,36.5 62,33.5', width: 8 },
        { along: '90,53 76,57 61,58', width: 8.2 },
        { along: '91,50 106,52', width: 24 },
      ],
      { shapes: ['M88 40L104 38L104 68L92 66Z'] },
    ),
    nail(61, 33.2, 6),
    nail(59.6, 58, -2),
    curve('77,35 76.2,37.4', { width: 0.5 }),
    curve('77,58.6 76.4,56', { width: 0.5 }),
    curve('88.5,43.5 91,45.5', { width: 0.5 }),
    curve('88.5,54.5 91,53', { width: 0.5 }),
  ].join('');
}

/** Thumb from below, index from above, the other fingers behind the index. */
function thumbHand(): Ink {
  return [
    joined([{ along: '96,36 84,24 74,24', width: 8 }]),
    joined([{ along: '94,38 80,27 68,26', width: 8.2 }]),
    joined(
      [
        { along: '92,44 80,31 62,28.5', width: 8.2 },
        { along: '92,58 79,65 63,62.5', width: 9 },
        { along: '92,51 106,52', width: 25 },
      ],
      { shapes: ['M86 36L104 36L104 68L88 66Z'] },
    ),
    nail(61, 28.4, 4),
    nail(61.6, 62.3, 4),
    curve('79.5,29.5 77.8,31.8', { width: 0.5 }),
    curve('79.5,66 78.6,63.4', { width: 0.5 }),
  ].join('');
}

/** Index and middle finger of one hand hold a lump of the neck between them. */
export const twoFingers: Drawing = { width: 100, height: 78, ink: neck() + lump(61, 45.8, 9) + twoFingerHand() };

/** Thumb and index finger hold a big lump. */
export const thumbAndFinger: Drawing = { width: 100, height: 78, ink: neck() + lump(60, 45.4, 13.5) + thumbHand() };

/** The hand that holds the needle like a pencil, from the right; its tip at the origin. */
function pencilHand(): Ink {
  return [
    // Ring and little finger, bent.
    joined([{ along: '70,-14 54,-11 44,-17', width: 9 }]),
    joined([{ along: '68,-22 50,-18 38,-23', width: 9.4 }]),
    // Middle finger lies behind the needle.
    joined([{ along: '62,-30 44,-22 23,-21', width: 9 }]),
    placed(needle(21), 0, 0, { turn: 35, scale: 1.5 }),
    // Index from above and thumb from in front; the plastic end stays in sight between them.
    joined(
      [
        { along: '74,-50 54,-68 33,-63 14.5,-38.5', width: 9 },
        { along: '76,-36 160,-24', width: 34 },
      ],
      { shapes: ['M58 -62L160 -44L160 -4L66 -14L50 -38Z'] },
    ),
    joined([{ along: '76,-22 54,-25.5 31,-28', width: 10 }], {
      open: [{ along: '86,-21 72,-22.8', width: 12 }],
    }),
    placed(path('M-2.6 0C-2.6 -2.2 2.4 -2.6 2.4 -2L2.4 2C2.4 2.6 -2.6 2.2 -2.6 0Z', { width: 0.45 }), 30.6, -28.4, {
      turn: 8,
    }),
  ].join('');
}

/** A hand holds the needle alone, like a pencil; a syringe on it is crossed out. */
export const needleAlone: Drawing = {
  width: 100,
  height: 78,
  ink: [
    placed(pencilHand(), 32, 74),
    placed(needle(14), 13, 76, { scale: 0.8 }),
    placed(syringe(0.45), 13, 54.5, { scale: 0.8 }),
    crossedOut(2, 14, 22, 58),
  ].join(''),
};

/** Both hands at work: two fingers hold the lump, the other hand brings the needle in between them. */
export const needleBetween: Drawing = {
  width: 100,
  height: 80,
  ink: placed(
    neck() + lump(61, 45.8, 9) + twoFingerHand() + placed(pencilHand(), 59, 46, { scale: 0.66, mirror: true }),
    0,
    2,
  ),
};
