import { mkdtempSync } from 'node:fs';
import { join } from 'node:path';

/** A folder for databases beside the repository, on the disk that it stands on: one in memory would flatter everybody. */
export function benchFolder(): string {
  return mkdtempSync(join(process.cwd(), '.bench-'));
}
