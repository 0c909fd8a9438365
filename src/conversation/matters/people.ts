import type { Matter } from '../moment.ts';

export const people: Matter = {};
