import { readFileSync } from 'node:fs';

/** Resident memory of a process, megabytes; null where the system does not say. */
export function residentOf(pid: number): number | null {
  try {
    const kilobytes = /^VmRSS:\s+(\d+) kB/m.exec(readFileSync(`/proc/${pid}/status`, 'utf8'))?.[1];
    return kilobytes === undefined ? null : (Number(kilobytes) * 1024) / 1e6;
  } catch {
    return null;
  }
}
