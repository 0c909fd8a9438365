import type { Matter } from '../moment.ts';

export const ready: Matter = {};
