import { mkdtempSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { Spare } from '../../src/line/ports.ts';
import { spareFile } from '../../src/store/spare-file.ts';
import { Gateway, phoneOf, QueueLine } from '../support/queue-line.ts';

const worker = phoneOf('w', 'worker', 1);
const other = phoneOf('v', 'worker', 2);
const doctor = phoneOf('d', 'doctor', 3);
const coordinator = phoneOf('c', 'coordinator', 4);

/** Pages that alarms are given when the disk is full. */
const heldPages = 4_000;

/** A disk whose room is counted in pages of the database. */
class Disk implements Spare {
  readonly connections = new Set<Database.Database>();
  inUse = false;
  private isHeld = true;

  private setRoom(pages: number): void {
    for (const one of this.connections) if (one.open) one.pragma(`max_page_count = ${pages}`);
  }

  fill(): void {
    for (const one of this.connections)
      if (one.open) one.pragma(`max_page_count = ${one.pragma('page_count', { simple: true })}`);
  }

  release(): boolean {
    this.inUse = true;
    if (!this.isHeld) return false;
    this.isHeld = false;
    const [one] = [...this.connections].filter((each) => each.open);
    this.setRoom(Number(one!.pragma('page_count', { simple: true })) + heldPages);
    return true;
  }

  hasRoom = false;
  refill(): boolean {
    if (this.hasRoom) {
      this.setRoom(1_000_000);
      this.isHeld = true;
      this.inUse = false;
    }
    return this.isHeld;
  }

  freeBytes(): number {
    return this.hasRoom || !this.inUse ? 1_000_000_000 : 0;
  }
}

describe('a full disk', () => {
  let clinic: QueueLine;
  let gateway: Gateway;
  let disk: Disk;

  beforeEach(async () => {
    disk = new Disk();
    const { prepare } = Database.prototype;
    vi.spyOn(Database.prototype, 'prepare').mockImplementation(function (this: Database.Database, sql: string) {
      disk.connections.add(this);
      return prepare.call(this, sql);
    } as typeof prepare);
    gateway = new Gateway();
    clinic = new QueueLine();
    await clinic.open(gateway, { store: { spare: disk }, line: { spare: disk } });
    await clinic.store.putPeople([worker, other, doctor, coordinator]);
    await clinic.line.settle();
    disk.fill();
  });
  afterEach(async () => {
    vi.restoreAllMocks();
    expect(await clinic.sosUnheard()).toEqual([]);
    await clinic.close();
  });

  const texts = (id: string) => gateway.taken.filter((one) => one.personId === id).map((one) => one.text);
  /** Ordinary texts come until one of them finds no room. */
  const untilFull = async (): Promise<void> => {
    for (let n = 0; n < 400 && !disk.inUse; n += 1) await clinic.hear(other, n % 2 ? 'NEW' : 'LIST');
    expect(disk.inUse).toBe(true);
  };

  it('takes an SOS, tells the doctor and takes the answer; other texts wait at the network', async () => {
    await untilFull();
    expect(await clinic.hear(other, 'LIST')).toBe('failed');
    expect(await clinic.hear(worker, 'SOS')).toBe('done');
    expect(await clinic.hear('+000555990001', 'SOS')).toBe('done');
    await clinic.line.settle();
    expect(gateway.taken.some((one) => one.to.address === '+000555990001')).toBe(true);
    expect(texts('w')[0]).toContain('Take the needle out');
    const tag = /reply (\d\d) and: 1/.exec(texts('d').at(-1) ?? '')?.[1];
    expect(await clinic.hear(doctor, `${tag} 1`)).toBe('done');
    await clinic.line.settle();
    expect(texts('w').filter((one) => one.includes('Person d answers'))).toHaveLength(1);
    expect(await clinic.hear(doctor, 'LIST')).toBe('failed');
    expect(await clinic.hear(other, 'LIST')).toBe('failed');
    expect(clinic.logged).toContain('disk-full');
  });

  it('the very SOS that finds no room is taken', async () => {
    // Nothing else is written before it.
    for (let n = 0; n < 400 && !disk.inUse; n += 1) expect(await clinic.hear(worker, 'SOS')).toBe('done');
    expect(disk.inUse).toBe(true);
  });

  it('the coordinators hear of it once, and when there is room again all is taken', async () => {
    await untilFull();
    for (let look = 0; look < 3; look += 1) {
      await clinic.line.watch.look();
      await clinic.line.settle();
    }
    expect(texts('c').filter((one) => one.includes('disk of the line is full'))).toHaveLength(1);
    disk.hasRoom = true;
    await clinic.line.watch.look();
    await clinic.line.settle();
    expect(texts('c').filter((one) => one.includes('has room again'))).toHaveLength(1);
    expect(await clinic.hear(other, 'LIST')).toBe('done');
  });

  it('the coordinators are warned before', async () => {
    disk.hasRoom = true;
    disk.refill();
    disk.freeBytes = () => 90_000_000;
    await clinic.line.watch.look();
    await clinic.line.settle();
    expect(texts('c').filter((one) => one.includes('90 MB are left'))).toHaveLength(1);
  });
});

describe('the file that holds space back', () => {
  const folder = mkdtempSync(join(tmpdir(), 'neckline-spare-'));
  afterEach(() => rmSync(folder, { recursive: true, force: true }));

  it('is made in full, given back once, and made again', () => {
    const file = join(folder, 'reserve');
    const spare = spareFile(file, 3_000_000);
    expect(spare.release()).toBe(false);
    expect(spare.inUse).toBe(true);
    spare.refill();
    expect(spare.inUse).toBe(false);
    expect(statSync(file).size).toBe(3_000_000);
    // No holes.
    expect(statSync(file).blocks * 512).toBeGreaterThanOrEqual(3_000_000);
    expect(spare.release()).toBe(true);
    expect(statSync(file, { throwIfNoEntry: false })).toBeUndefined();
    expect(spare.release()).toBe(false);
  });
});
