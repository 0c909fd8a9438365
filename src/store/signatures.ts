/** Who agreed to which value, and when. Kept for good: a signature is never changed, a later one stands beside it. */
import type { Kysely } from 'kysely';
import type { KeyRing } from './keys.ts';
import { slots } from './rows.ts';
import type { SignaturesTable, Tables } from './schema.ts';
import { openSealed, seal } from './seal.ts';
import { ifOpens } from './shut.ts';
import { change, type Steps, writing } from './statement.ts';

/** One agreement of one person with one value. */
export interface Signature {
  /** What was signed, by its id. */
  readonly item: string;
  /** Hash of the value that was signed. */
  readonly hash: string;
  readonly at: number;
  /** Name and role, as given. */
  readonly who: string;
}

/** What a store promises of signatures. */
export interface SignatureStore {
  /** Adds signatures, all of them or none. */
  sign(programmeId: string, signatures: readonly Signature[]): Promise<void>;
  /** All signatures of a programme, oldest first. */
  signatures(programmeId: string): Promise<readonly Signature[]>;
}

/** Keeps them on a database; `write` runs steps in one durable transaction. */
export function signatureStore(
  db: Kysely<Tables>,
  ring: KeyRing,
  write: (steps: () => Steps<void>) => Promise<void>,
): SignatureStore {
  const statements = signatureStatements(db);
  return {
    sign: (programmeId, signatures) => write(() => addSignatures(ring, statements, programmeId, signatures)),
    signatures: (programmeId) => signaturesOf(db, ring, programmeId),
  };
}

type SignatureStatements = ReturnType<typeof signatureStatements>;

function signatureStatements(db: Kysely<Tables>) {
  return {
    insert: writing<Omit<SignaturesTable, 'number'>>(
      'insertSignature',
      db.insertInto('signatures').values(slots(['programme_id', 'item', 'hash', 'at', 'sealed'])),
    ),
  };
}

/** What a name is sealed beside: under another value or another instant it does not open. */
function bound({ programme_id, item, hash, at }: Omit<SignaturesTable, 'number' | 'sealed'>): string {
  return JSON.stringify(['signature', programme_id, item, hash, at]);
}

/** Adds signatures, all in one transaction. */
function* addSignatures(
  ring: KeyRing,
  statements: SignatureStatements,
  programmeId: string,
  signatures: readonly Signature[],
): Steps<void> {
  for (const { item, hash, at, who } of signatures) {
    const row = { programme_id: programmeId, item, hash, at };
    yield* change(statements.insert, { ...row, sealed: seal(ring.signature, who, bound(row)) });
  }
}

/** All of a programme, oldest first; one whose seal does not open is left out (`signatureFaults` names it). */
async function signaturesOf(db: Kysely<Tables>, ring: KeyRing, programmeId: string): Promise<readonly Signature[]> {
  const rows = await db
    .selectFrom('signatures')
    .selectAll()
    .where('programme_id', '=', programmeId)
    .orderBy('number')
    .execute();
  return rows.flatMap((row) => {
    const who = ifOpens(() => openSealed(ring.signature, row.sealed, bound(row)).toString('utf8'));
    return who === null ? [] : [{ item: row.item, hash: row.hash, at: row.at, who }];
  });
}

/** One line for each signature that was not given through the line, or was changed since. */
export async function signatureFaults(db: Kysely<Tables>, ring: KeyRing): Promise<readonly string[]> {
  const rows = await db.selectFrom('signatures').selectAll().orderBy('number').execute();
  return rows.flatMap((row) => {
    const opens = ifOpens(() => openSealed(ring.signature, row.sealed, bound(row))) !== null;
    return opens ? [] : [`signature ${row.number} of ${row.item}: does not open beside its value and its day`];
  });
}
