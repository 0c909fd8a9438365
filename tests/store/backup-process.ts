/** A backup in a process of its own, to be killed by a test: `backup-process.ts <database> <target> <public key file>`. */
import { readFileSync } from 'node:fs';
import { makeBackup } from '../../src/store/backup.ts';
import { readPublicKey } from '../../src/store/backup-seal.ts';
import { keyRingOf } from '../../src/store/keys.ts';

const [file = '', to = '', pair = ''] = process.argv.slice(2);
const publicKey = readPublicKey(readFileSync(pair, 'utf8'));
await makeBackup(file, to, { ring: keyRingOf(Buffer.alloc(32, 7)), publicKey, at: Date.now() });
