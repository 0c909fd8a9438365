import module from 'node:module';
import { Worker } from 'node:worker_threads';

/** Run beside the line: on a large file it takes seconds, and an SOS waits for nobody. */
const look = `
const { parentPort, workerData } = require('node:worker_threads');
const db = new (require(workerData.driver))(workerData.file, { readonly: true });
parentPort.postMessage(db.pragma('quick_check(1)', { simple: true }));
db.close();
`;

/** The database's own quick check of a file (sqlite.org, pragma quick_check). False: its pages do not hold together. */
export function passesQuickCheck(file: string): Promise<boolean> {
  const driver = module.createRequire(import.meta.url).resolve('better-sqlite3');
  return new Promise((resolve) => {
    const worker = new Worker(look, { eval: true, workerData: { driver, file } });
    worker.once('message', (said) => resolve(said === 'ok'));
    // A file that cannot be looked through is none that holds together.
    worker.once('error', () => resolve(false));
    worker.once('exit', () => resolve(false));
  });
}
