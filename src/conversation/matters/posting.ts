import type { Matter } from '../moment.ts';

export const posting: Matter = {};
