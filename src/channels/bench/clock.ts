import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname } from 'node:path';
import type { Clock } from '../../line/ports.ts';

/** The real time and how far it was moved forward. Kept in a file, so that a restart does not go back in time. */
export class BenchClock implements Clock {
  private readonly file: string;
  private aheadMs: number;

  constructor(file: string) {
    this.file = file;
    this.aheadMs = readAhead(file);
  }

  now(): number {
    return Date.now() + this.aheadMs;
  }

  /** Forward only; an instant in the past changes nothing. */
  moveTo(at: number): void {
    const more = at - this.now();
    if (more <= 0) return;
    this.aheadMs += more;
    mkdirSync(dirname(this.file), { recursive: true });
    writeFileSync(this.file, JSON.stringify({ aheadMs: this.aheadMs }));
  }
}

function readAhead(file: string): number {
  try {
    const kept: unknown = (JSON.parse(readFileSync(file, 'utf8')) as { aheadMs?: unknown }).aheadMs;
    return typeof kept === 'number' && kept >= 0 && Number.isFinite(kept) ? kept : 0;
  } catch {
    return 0;
  }
}
