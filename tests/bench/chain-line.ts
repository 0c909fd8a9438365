/** The built line in a process of its own, behind its real SMS door. */
import { type ChildProcess, spawn } from 'node:child_process';
import { mkdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { packageRoot } from '../../src/content/load.ts';
import { openKeyRing } from '../../src/store/keys.ts';
import { openStore } from '../../src/store/open.ts';
import { freePort } from '../support/free-port.ts';
import { contentWith, staffOf, workersOf, writeProgramme } from './clinics.ts';
import { residentOf } from './resident.ts';

export const chainSecret = 'secret-of-the-bench-gateway';
/** Length of a tick of the kernel's processor accounts, ms. */
const tickMs = 10;

/** A gateway of no kind in particular: JSON out, form in, times in milliseconds. */
const mapping = {
  ...JSON.parse(readFileSync(join(packageRoot, 'deploy/sms-mapping.example.json'), 'utf8')),
  name: 'bench',
};
mapping.inbound.timeUnit = 'milliseconds';

export interface ChainLine {
  readonly port: number;
  /** Processor time of the process so far, ms; null where the system does not say. */
  cpuMs(): number | null;
  /** Resident memory now, megabytes; null where the system does not say. */
  megabytes(): number | null;
  /** The database's file and its log, bytes. */
  bytes(): { readonly file: number; readonly log: number };
  stop(): Promise<void>;
}

/** Where the processes of a line keep what they know: one of them a file, several a PostgreSQL database. */
export interface ChainPlace {
  readonly folder: string;
  /** `postgres://…`; absent = a file in the folder. */
  readonly url?: string;
}

/** Makes a database with so many health workers for processes that send to the gateway at `gatewayPort`. */
export async function prepareChainLine(
  { folder, url }: ChainPlace,
  people: number,
  gatewayPort: number,
): Promise<(flags?: readonly string[]) => Promise<ChainLine>> {
  const data = join(folder, 'data');
  const keyFile = join(folder, 'line.key');
  const mappingFile = join(folder, 'mapping.json');
  mkdirSync(data);
  writeFileSync(mappingFile, JSON.stringify(mapping));
  const programmeFile = writeProgramme(folder, people);
  const store = await openStore({ url: url ?? `sqlite:${join(data, 'neckline.db')}`, keys: openKeyRing(keyFile) });
  const { id } = contentWith(programmeFile).programme;
  await store.putPeople([...workersOf(id, people), ...staffOf(id)]);
  await store.close();
  return async (flags = []) => {
    const port = await freePort();
    const child = spawn(process.execPath, [...flags, join(packageRoot, 'dist/main.js'), 'start'], {
      env: {
        PATH: process.env.PATH,
        ...(url === undefined ? {} : { DATABASE_URL: url }),
        NECKLINE_DATA: data,
        NECKLINE_KEY_FILE: keyFile,
        NECKLINE_PROGRAMME: programmeFile,
        NECKLINE_LOG: 'error',
        NECKLINE_HTTP_PORT: String(port),
        NECKLINE_SMS_GATEWAY: 'generic',
        NECKLINE_SMS_MAPPING: mappingFile,
        NECKLINE_SMS_SEND_URL: `http://127.0.0.1:${gatewayPort}/send`,
        NECKLINE_SMS_USER: 'bench',
        NECKLINE_SMS_PASSWORD: 'password-of-the-bench',
        NECKLINE_SMS_NUMBER: '1234',
        NECKLINE_SMS_SECRET: chainSecret,
        NECKLINE_SMS_PREFIXES: '+000555',
      },
      stdio: ['ignore', 'pipe', 'inherit'],
    });
    await serving(child);
    return {
      port,
      cpuMs: () => cpuOf(child.pid!),
      megabytes: () => residentOf(child.pid!),
      bytes: () => ({ file: sizeOf(join(data, 'neckline.db')), log: sizeOf(join(data, 'neckline.db-wal')) }),
      stop: async () => {
        const ended = new Promise((resolve) => child.once('exit', resolve));
        child.kill('SIGTERM');
        await ended;
      },
    };
  };
}

function serving(child: ChildProcess): Promise<void> {
  return new Promise((resolve, reject) => {
    child.stdout!.on('data', (printed) => /serves/.test(String(printed)) && resolve());
    child.once('exit', (code) => reject(new Error(`the line ended with ${code}`)));
  });
}

function cpuOf(pid: number): number | null {
  try {
    // Behind the name in brackets, which may hold anything: user and system time are the 12th and 13th.
    const fields = readFileSync(`/proc/${pid}/stat`, 'utf8')
      .replace(/^.*\) /s, '')
      .split(' ');
    return (Number(fields[11]) + Number(fields[12])) * tickMs;
  } catch {
    return null;
  }
}

function sizeOf(file: string): number {
  return statSync(file, { throwIfNoEntry: false })?.size ?? 0;
}
