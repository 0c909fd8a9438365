import type { Matter } from '../moment.ts';

export const aftercare: Matter = {};
