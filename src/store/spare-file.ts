/** A file that holds space back, so that alarms are stored when the disk is full. */
import { closeSync, fsyncSync, openSync, rmSync, statfsSync, statSync, writeSync } from 'node:fs';
import { dirname } from 'node:path';
import type { Spare } from '../line/ports.ts';

/** Held back, bytes: some hundred alarms with all that they cause. Our convention. */
const usualBytes = 16 * 2 ** 20;
const pieceBytes = 2 ** 20;

/** `bytes`: held back once there is twice as much room. A file of a run before is taken as it is. */
export function spareFile(file: string, bytes = usualBytes): Spare {
  let inUse = false;
  const held = (): boolean => (statSync(file, { throwIfNoEntry: false })?.size ?? 0) >= bytes;
  const freeBytes = (): number => {
    const { bavail, bsize } = statfsSync(dirname(file));
    return bavail * bsize;
  };
  return {
    get inUse() {
      return inUse;
    },
    release() {
      inUse = true;
      if (!statSync(file, { throwIfNoEntry: false })) return false;
      rmSync(file, { force: true });
      return true;
    },
    refill() {
      if (!held() && freeBytes() >= 2 * bytes) {
        try {
          fill(file, bytes);
        } catch {
          // Somebody else took the room meanwhile: what was begun is given back.
          rmSync(file, { force: true });
        }
      }
      if (held()) inUse = false;
      return held();
    },
    freeBytes,
  };
}

/** Written in full: a file with holes holds nothing back. */
function fill(file: string, bytes: number): void {
  const handle = openSync(file, 'w', 0o600);
  try {
    const piece = Buffer.alloc(Math.min(pieceBytes, bytes), 0x4e);
    for (let written = 0; written < bytes; )
      written += writeSync(handle, piece, 0, Math.min(piece.length, bytes - written));
    fsyncSync(handle);
  } finally {
    closeSync(handle);
  }
}
