import type { Matter } from '../moment.ts';

export const laboratory: Matter = {};
