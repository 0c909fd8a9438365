import type { Matter } from '../moment.ts';

export const labelling: Matter = {};
