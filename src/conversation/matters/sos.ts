import type { Matter } from '../moment.ts';

export const sos: Matter = {};
