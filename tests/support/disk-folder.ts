import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/** A new temporary folder on the real disk, for tests of what survives there; all others may be in memory. */
export const diskFolder = (name: string): string => mkdtempSync(join(process.env.TEST_DISK ?? tmpdir(), name));
