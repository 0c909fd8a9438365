import type { Matter } from '../moment.ts';

export const action: Matter = {};
