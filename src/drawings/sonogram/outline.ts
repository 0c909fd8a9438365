/** The edge of a lump as SVG path data: each kind its own, all of the diameters that were measured. */
import type { Margin } from '../../clinical/findings.ts';
import { short } from '../ink.ts';

interface Oval {
  readonly x: number;
  readonly y: number;
  readonly across: number;
  readonly down: number;
}

/** An even oval. */
export function ovalData({ x, y, across, down }: Oval): string {
  const arc = `a${short(across)} ${short(down)} 0 1 1`;
  return `M${short(x - across)} ${short(y)}${arc} ${short(2 * across)} 0${arc} ${short(-2 * across)} 0Z`;
}

/** Distance from the middle as a part of the oval's, for a turn from 0 to 1. */
const bulges = 7;
const spikes = 13;
const jags = [1, 0.8, 0.97, 0.86, 1.06, 0.84, 0.95, 0.78, 1.04, 0.9, 0.99, 0.76, 1.02, 0.87, 0.93, 0.8, 1.05, 0.85];

function lobed(turn: number): number {
  return 0.82 + 0.18 * Math.sqrt(Math.abs(Math.sin(Math.PI * bulges * turn)));
}

/** Corners by turn and distance; joined by straight lines. */
function cornersOf(margin: Margin): readonly (readonly [turn: number, far: number])[] | null {
  if (margin === 'lobulated') {
    return Array.from({ length: bulges * 8 }, (_, at) => [at / (bulges * 8), lobed(at / (bulges * 8))] as const);
  }
  if (margin === 'irregular') return jags.map((far, at) => [at / jags.length, far] as const);
  if (margin === 'spiculated') {
    return Array.from({ length: spikes }, (_, at) => at / spikes).flatMap((turn, at) => [
      [turn - 0.026, 0.74] as const,
      [turn, at % 2 === 0 ? 1 : 0.93] as const,
      [turn + 0.026, 0.74] as const,
    ]);
  }
  return null;
}

/** The edge; smooth, blurred and unknown ones are an even oval. Its widest and highest are the oval's. */
export function outlineData(oval: Oval, margin: Margin | null): string {
  const corners = margin === null ? null : cornersOf(margin);
  if (corners === null) return ovalData(oval);
  const points = corners.map(([turn, far]) => {
    const angle = 2 * Math.PI * turn - Math.PI / 2;
    return [Math.cos(angle) * far, Math.sin(angle) * far] as const;
  });
  const xs = points.map(([x]) => x);
  const ys = points.map(([, y]) => y);
  const within = (value: number, all: readonly number[], middle: number, half: number): string => {
    const [least, most] = [Math.min(...all), Math.max(...all)];
    return tenth(middle - half + ((value - least) / (most - least)) * 2 * half);
  };
  const written = points.map(([x, y]) => `${within(x, xs, oval.x, oval.across)} ${within(y, ys, oval.y, oval.down)}`);
  return `M${written.join('L')}Z`;
}

const tenth = (value: number): string => String(Math.round(value * 10) / 10);
