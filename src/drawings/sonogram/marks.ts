/** Marks for what nobody knows, and the patterns that drawings share. */
import { short } from '../ink.ts';

/** A question mark on a white disc: this was not asked, or could not be seen. */
export function unknownMark(x: number, y: number, radius = 6.5): string {
  return [
    `<circle cx="${short(x)}" cy="${short(y)}" r="${short(radius)}" fill="#fff" stroke="#000" stroke-width=".8"/>`,
    `<text x="${short(x)}" y="${short(y + radius * 0.56)}" font-size="${short(radius * 1.55)}" font-weight="bold" text-anchor="middle" fill="#000">?</text>`,
  ].join('');
}

/** Strokes of an edge that is not known: black dashes on a white line, seen on every grey. */
export function unknownLine(data: string, width = 1.6): string {
  return [
    `<path d="${data}" fill="none" stroke="#fff" stroke-width="${short(width + 1)}"/>`,
    `<path d="${data}" fill="none" stroke="#000" stroke-width="${short(width)}" stroke-dasharray="4 4"/>`,
  ].join('');
}

/** Pencil grain of tissue; bubbles of a sponge and stripes of a grey that nobody knows, where they are needed. `id`: of this drawing. */
export function patterns(id: string, needed: { readonly sponge: boolean; readonly stripes: boolean }): string {
  const pattern = (name: string, size: string, ink: string, turn = '') =>
    `<pattern id="${id}${name}" width="${size}" height="${size}" patternUnits="userSpaceOnUse"${turn}>${ink}</pattern>`;
  const grain = [
    '<path d="M1 3q2-1.4 4 0M11 2q2 1.2 4 .2M20 5q2-1.2 4 0M5 9q2 1 3.4 0M15 10q2-1.2 4 0M1 15q2 1.2 4 .2M10 16q2-1.2 4 0M20 17q1.6 1 3.4 0M5 22q2-1.2 4 0M15 23q2 1.2 4 .2" stroke="#fff" stroke-opacity=".42" fill="none" stroke-linecap="round"/>',
    '<path d="M6 5.4q2 1 3.6 0M16 5q1.4-1 3 0M1 10q1.4 1 3 0M10 12.6q2-1 3.6 0M20 12q1.6 1 3 0M4 18.6q2-1 3.6 0M15 19q2 1 3.6 0M11 6q1 1 2.6 0" stroke="#000" stroke-opacity=".3" fill="none" stroke-linecap="round"/>',
  ].join('');
  const cell = 'fill="#111" stroke="#f2f2f2" stroke-width="1.1"';
  const sponge = [
    `<path d="M1 4q3-4 6 0t-3 4.6q-4 0-3-4.6z" ${cell}/>`,
    `<path d="M9.4 2q4-2 5.6 1.2t-2.2 4q-5 0-3.4-5.2z" ${cell}/>`,
    `<path d="M4 11.4q4-3 6 .4t-2 3.8q-5 .4-4-4.2z" ${cell}/>`,
    `<path d="M12 10q3-2 4 1t-2 4q-4-1-2-5z" ${cell}/>`,
  ].join('');
  return [
    pattern('g', '25', grain),
    needed.sponge ? pattern('s', '17', sponge) : '',
    needed.stripes
      ? pattern(
          'u',
          '10',
          '<path d="M0 0h10v10h-10z" fill="#e2e2e2"/><path d="M0 0h3.4v10h-3.4z" fill="#8a8a8a"/>',
          ' patternTransform="rotate(45)"',
        )
      : '',
  ].join('');
}
