import type { Matter } from '../moment.ts';

export const ask: Matter = {};
