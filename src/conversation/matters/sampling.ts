import type { Matter } from '../moment.ts';

export const sampling: Matter = {};
