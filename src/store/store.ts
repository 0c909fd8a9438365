import { type Case, caseShape } from '../case/case.ts';
import type { ChangeSet, CommitOutcome, Log, Spare, Store } from '../line/ports.ts';
import { errorCode } from '../text/error-code.ts';
import { restoreStatements, settleRestored } from './after-restore.ts';
import { bareOf, bareStatements } from './bare.ts';
import { commitInside, type Planned, planChange } from './commit.ts';
import type { Context } from './context.ts';
import { caseKeyId, type KeySession, keyVault, personKeyId } from './data-keys.ts';
import type { Ended, Engine, Scrubbed } from './dialects/dialect.ts';
import { doubtfulStatements, nextDoubt, releaseDoubtful } from './doubtful.ts';
import { dueBefore, dueStatements, firstDue, nextDueAt } from './due.ts';
import { type ErasureReason, eraseCase, erasePerson, eraseStatements } from './erase.ts';
import type { Erasure } from './erasure-list.ts';
import { type ErasureProof, erasuresOf, proofOf } from './erasures.ts';
import { figureStatements, figuresOf } from './figures.ts';
import { type DayHead, type Head, headStatements, takeHead, verifyHeads } from './heads.ts';
import { caseIdOf, findCase, historyOf, messagesOf } from './history.ts';
import { hotStatements } from './hot.ts';
import { eventKeyHash, type KeyRing } from './keys.ts';
import { linkFacts, linkStatements } from './links.ts';
import { loadSteps } from './load.ts';
import { type Look, lookStatements, looksAt } from './looks.ts';
import { emptyMemory, forget } from './memory.ts';
import { claimOutbox, outboxStatements, reportOutbox, type Served, type Settled, settleOutbox } from './outbox.ts';
import { parkedList } from './parked.ts';
import { casesAlike } from './patients.ts';
import { peopleStatements, putPerson } from './people.ts';
import { Plan } from './plan.ts';
import { mendSome, pointerFaults, pointerStatements } from './pointers.ts';
import { boundMark, boundName, rebindAll, rebindStatements } from './rebind.ts';
import { recent } from './recent.ts';
import { refoldSome, refoldStatements } from './refold.ts';
import { countCases, dropTextPage, overduePage, retentionStatements, throughPages } from './retention.ts';
import { rosterReader } from './roster.ts';
import { laneAt } from './schema.ts';
import { sideStatements } from './side.ts';
import { type SignatureStore, signatureStore } from './signatures.ts';
import { all, change, one, type Steps } from './statement.ts';
import { isFull, isUnavailable, StoreError } from './store-error.ts';
import { turnWritesOn } from './turn-writes.ts';
import { type Verified, verifyAll } from './verify.ts';
import { boundWaits, waitStatements } from './waits.ts';
import { rewrapSome, wrappingStatements } from './wrapping.ts';

/** The store with what commands need beside the line itself. */
export interface LineStore extends Store, SignatureStore {
  /** Destroys the key of one case; `scrub` then takes its bytes away. False: unknown or erased before. */
  eraseCase(caseId: string, at: number, reason?: ErasureReason): Promise<boolean>;
  /** Destroys the key of one person, as of a case; the person is suspended and reached no more. */
  erasePerson(personId: string, at: number, reason?: ErasureReason): Promise<boolean>;
  /** Everything that was ever erased. */
  erasures(): Promise<readonly Erasure[]>;
  /** The id of a case by its id or by a code of a specimen, erased ones too; null = unknown. */
  caseIdOf(programmeId: string, codeOrId: string): Promise<string | null>;
  /** What is left of a case, for whoever must show that it was erased. */
  proofOf(caseId: string): Promise<ErasureProof>;
  /** Brings data keys under the current wrapping key, see `rewrapSome`. */
  rewrap(after: string, limit: number): Promise<{ readonly last: string | null; readonly changed: number }>;
  /** Takes what was destroyed, dropped or replaced before out of the engine's files, and says where it may still stand. */
  scrub(): Promise<Scrubbed>;
  /** A fresh head over all chains, or the last one while it is younger than `freshMs`. */
  dailyHead(now: number, freshMs: number): Promise<DayHead>;
  /** Closed cases that nothing happened to since `before`; and how many cases are kept in all. */
  overdueCases(
    programmeId: string,
    before: number,
  ): Promise<{ readonly ids: readonly string[]; readonly kept: number }>;
  /** Drops texts of no case from before `before`, in pieces; returns how many. */
  dropTexts(before: number): Promise<number>;
  /** Heads and what is wrong with them or with what they cover. */
  verifyHeads(): Promise<{
    readonly faults: readonly string[];
    readonly last: Head | null;
    readonly heads: readonly Head[];
  }>;
  /** Notes that somebody looks at a whole case, and gives the looks before. */
  look(caseId: string, by: string, at: number): Promise<readonly Look[]>;
  /** Seals anew what an earlier version sealed in another way; does nothing where there is none. */
  rebind(): Promise<void>;
  /** Folds cases anew that an earlier version stored in another shape; does nothing where there are none. */
  refold(): Promise<void>;
  /** Takes a parked event off the list. False: not there. */
  unpark(id: string): Promise<boolean>;
  /** After a restore: what waited to be sent is held, texts of safety go out. */
  settleRestored(now: number): Promise<{ readonly held: number; readonly sent: number }>;
  /** False: the file of the database does not hold together, see `Engine`. */
  isSound(): Promise<boolean>;
  /** Tables with rows that the line did not write, see `witness.ts`. */
  changedTables(): Promise<readonly string[]>;
  /** Takes the rows as they are for right, where a person has seen why they are not what the line wrote. */
  takeStock(): Promise<void>;
  /** As `verify`, with the cases that were erased. */
  audit(): Promise<Verified>;
  /** Copies the database into a new file while the line runs. False: this engine brings its own tools. */
  copyTo(file: string): Promise<boolean>;
}

export interface StoreParts {
  readonly ring: KeyRing;
  readonly dueAtOf: (of: Case) => number | null;
  readonly log: Log;
  /** Random name of this process: claims carry it. */
  readonly owner: string;
  /** Given back when the disk is full. */
  readonly spare: Spare | null;
}

/** Recipients whose last turn is remembered. */
const keptTurns = 2_000;
/** Times that a count of codes is given again before they are counted anew. */
const countedAgainAfter = 500;
/** Cases folded anew in one transaction. */
const refoldAtOnce = 50;

interface Readied {
  readonly plan: Planned | null;
  readonly keys: KeySession;
}

// biome-ignore lint/correctness/useYield: ends without a statement
function* endedAs(ended: Ended): Steps<Ended> {
  return ended;
}

/** What cannot be read now is no fault of the event's: it comes again. */
function asUnavailable(thrown: unknown): never {
  throw isUnavailable(thrown) ? new StoreError('unavailable', 'read', thrown) : thrown;
}

/** Puts the store together on an engine whose schema is up to date. */
export function storeOn(engine: Engine, parts: StoreParts): LineStore {
  const { kysely, dialect } = engine;
  const { ring, dueAtOf, owner, log, spare } = parts;
  const hot = hotStatements(kysely, dialect);
  const peopleRows = peopleStatements(kysely);
  const dueRows = dueStatements(kysely, dialect);
  const outboxRows = outboxStatements(kysely, dialect);
  const linkRows = linkStatements(kysely);
  const figureRows = figureStatements(kysely);
  const waitRows = waitStatements(kysely);
  const served: Served = { last: recent(keptTurns), count: 0 };
  const doubtfulRows = doubtfulStatements(kysely);
  const bareRows = bareStatements(kysely);
  const pointerRows = pointerStatements(kysely, dialect);
  const eraseRows = { ...eraseStatements(kysely), ...pointerRows };
  const restoreRows = restoreStatements(kysely);
  const wrappingRows = wrappingStatements(kysely);
  const headRows = headStatements(kysely);
  const lookRows = lookStatements(kysely);
  const refoldRows = refoldStatements(kysely);
  const rebindRows = rebindStatements(kysely);
  const retentionRows = retentionStatements(kysely);
  const side = sideStatements(kysely);
  const vault = keyVault(ring, hot);
  const memory = emptyMemory();
  const issued = new Map<string, { readonly count: number; asked: number }>();
  const turns = turnWritesOn((pieces) => engine.each(pieces));
  const rosters = rosterReader(kysely, dialect, ring, log);

  const contextOn = (keys: KeySession): Context => ({ hot, ring, keys, memory, dueAtOf });
  const read = <T>(steps: (context: Context) => Steps<T>): Promise<T> =>
    engine.read(() => steps(contextOn(vault.session(false)))).catch(asUnavailable);
  /** Makes room where the disk is full. True: there is some. */
  const madeRoom = async (thrown: unknown): Promise<boolean> => {
    if (!isFull(thrown) || !spare) return false;
    const released = spare.release();
    log.write('error', 'disk-full', { code: released ? 'reserve-in-use' : 'no-reserve' });
    // The log of what is written takes room of its own.
    if (released) await engine.scrub().catch(() => undefined);
    return released;
  };
  const write = async <T>(steps: (context: Context) => Steps<T>): Promise<T> => {
    try {
      return await writeOnce(steps);
    } catch (thrown) {
      if (await madeRoom(thrown)) return writeOnce(steps);
      throw thrown;
    }
  };
  const writeOnce = async <T>(steps: (context: Context) => Steps<T>): Promise<T> => {
    let keys = vault.session(true);
    const ended = await engine.write(() => {
      keys = vault.session(true);
      return steps(contextOn(keys));
    });
    keys.publish();
    return ended;
  };
  /** Plans what can be planned before the transaction; null takes the longer way, also to fail again where it counts. */
  const planAll = async (changes: readonly ChangeSet[]): Promise<readonly Readied[]> => {
    const readied: Readied[] = changes.map(() => ({ plan: null, keys: vault.session(false) }));
    const steps = function* (): Steps<void> {
      for (const [index, by] of changes.entries()) {
        // The longer way: the roster is changed, or a new case needs a key.
        if (by.people.length > 0 || by.cases.some((put) => put.version === null)) continue;
        const keys = readied[index]!.keys;
        try {
          readied[index] = { plan: yield* planChange(contextOn(keys), by), keys };
        } catch {
          readied[index] = { plan: null, keys };
        }
      }
    };
    await engine.read(steps).catch(() => undefined);
    return readied;
  };
  const commit = async (changes: readonly ChangeSet[]): Promise<readonly CommitOutcome[]> => {
    const readied = await planAll(changes);
    const kept: (() => void)[] = [];
    const ends = await turns.write(
      changes.map((by, index) => () => {
        const { plan, keys } = readied[index]!;
        const keep = (planned: Plan, session: KeySession) => {
          kept[index] = () => {
            session.publish();
            for (const remember of planned.onceKept) remember(memory);
          };
        };
        if (plan instanceof Plan) {
          keep(plan, keys);
          return plan.perform();
        }
        if (plan !== null) return endedAs(plan);
        const session = vault.session(true);
        return commitInside(contextOn(session), peopleRows, by, (planned) => keep(planned, session));
      }),
    );
    const full = ends.find((ended) => ended instanceof Error && isFull(ended));
    if (full !== undefined) await madeRoom(full);
    return ends.map((ended, index) => {
      if (ended === 'committed') kept[index]?.();
      if (!(ended instanceof Error)) return ended;
      log.write('error', 'commit-failed', { eventId: changes[index]?.eventId ?? '', code: errorCode(ended) });
      return isUnavailable(ended) ? 'unavailable' : 'failed';
    });
  };

  /** As `write`, in the one commit of this turn of the loop; `last`: after all else of it. */
  const together = async <T>(steps: (context: Context) => Steps<T>, last = false): Promise<T> => {
    let keys = vault.session(true);
    let value: { readonly of: T } | null = null;
    const piece = function* (): Steps<Ended> {
      keys = vault.session(true);
      value = { of: yield* steps(contextOn(keys)) };
      return 'committed';
    };
    const [ended] = await turns.write([piece], last);
    if (ended instanceof Error) {
      if (await madeRoom(ended)) return writeOnce(steps);
      throw ended;
    }
    keys.publish();
    return value!.of;
  };
  /** What could not be written when it was settled (a full disk): written with the next claim, or its person waits for ever. */
  const unsettled: Settled[] = [];
  const settle = (row: Settled): Promise<void> => {
    const done = together((context) => settleOutbox(context, outboxRows, linkRows, owner, row));
    done.catch(() => unsettled.push(row));
    return done;
  };
  const erased = async (steps: () => Steps<boolean>, keyId: string, id: string): Promise<boolean> => {
    const done = await engine.write(steps);
    vault.forget(keyId);
    forget(memory, id);
    return done;
  };
  const audit = async (): Promise<Verified> => {
    const found = await verifyAll(kysely, contextOn(vault.session(false)));
    const pointers = await pointerFaults(pointerRows, read);
    const tables = (await engine.witnessed()).map((table) => `${table}: its rows are not what the line wrote`);
    const faults = [...found.faults, ...pointers, ...tables];
    const counts = { cases: found.cases, erased: found.erased.length, faults: faults.length };
    log.write(faults.length === 0 ? 'info' : 'error', 'store-verified', counts);
    return { ...found, faults };
  };

  return {
    engine: dialect.name,
    load: (events, flows) =>
      read(function* (context) {
        const together = { ...context, shared: new Map<string, unknown>() };
        const loaded = [];
        for (const event of events) loaded.push(yield* loadSteps(together, event, flows));
        return loaded;
      }),
    commit,
    roster: (programmeId) => read(() => rosters(programmeId)),
    talking: (programme_id, after, limit) =>
      read(function* () {
        const rows = yield* all(peopleRows.talking, { programme_id, after, limit });
        return rows.map((row) => row.person_id);
      }),
    casesAlike: (programmeId, key) => read((context) => casesAlike(context, programmeId, key)),
    async codesIssued(programmeId) {
      const kept = issued.get(programmeId);
      if (kept && kept.asked < countedAgainAfter) {
        kept.asked += 1;
        return kept.count;
      }
      const count = Number((await read(() => one(side.codes, { programme_id: programmeId })))?.codes ?? 0);
      issued.set(programmeId, { count, asked: 0 });
      return count;
    },
    putPeople: (people) =>
      write(function* (context) {
        for (const person of people) yield* putPerson(context, peopleRows, person);
      }),
    dueBefore: (now, limit) =>
      (dialect.alone ? read : write)((context) => dueBefore(context, dueRows, dialect, owner, now, limit)),
    nextDueAt: () => read(() => nextDueAt(dueRows, owner)),
    firstDue: (limit) => read((context) => firstDue(context, dueRows, limit)),
    async claimOutbox(now, limit, room = {}) {
      const late = [...unsettled];
      // After what else this turn writes: a text is claimed by the commit that makes it durable.
      const claimed = await together(function* (context) {
        for (const one of late) yield* settleOutbox(context, outboxRows, linkRows, owner, one);
        yield* releaseDoubtful(doubtfulRows, now);
        return yield* claimOutbox(context, outboxRows, served, { owner, now, limit, room });
      }, true);
      unsettled.splice(0, late.length);
      return claimed;
    },
    settleOutbox: (id, status, at, notBefore, providerId) => settle({ id, status, at, notBefore, providerId }),
    report: (id, status, at) => together((context) => reportOutbox(context, outboxRows, id, status, at)),
    link: (channel) => read(() => linkFacts(linkRows, channel)),
    recoverOutbox: (now) =>
      write(function* () {
        const left = yield* change(outboxRows.recover, { now, owner });
        yield* boundWaits(waitRows, now);
        return left;
      }),
    // Alone nobody else can have died.
    takeOver: async (now) => (dialect.alone ? 0 : write(() => change(outboxRows.takeOver, { now, owner }))),
    boundWaits: (now) => write(() => boundWaits(waitRows, now)),
    async endWaits(channel, now) {
      await write(() => change(waitRows.end, { channel, now }));
    },
    figures: (programmeId, now) => read(() => figuresOf(figureRows, programmeId, now)),
    textsSince: (at) =>
      read(function* () {
        return (yield* one(outboxRows.since, { at }))?.texts ?? 0;
      }),
    nextOutboxAt: () =>
      read(function* () {
        const ready = (yield* one(outboxRows.next, {}))?.at ?? null;
        const doubtful = yield* nextDoubt(doubtfulRows);
        return ready === null || doubtful === null ? (ready ?? doubtful) : Math.min(ready, doubtful);
      }),
    queues: () =>
      read(function* () {
        const rows = yield* all(outboxRows.queues, {});
        return rows.map(({ lane, texts, oldest }) => ({ lane: laneAt(lane), texts: Number(texts), oldestAt: oldest }));
      }),
    mendSome: (after, at) => write((context) => mendSome(context, pointerRows, after, at)),
    bare: (event) => read(() => bareOf(ring, bareRows, event)),
    parked: () => read((context) => parkedList(context, hot.parked)),
    findCase: (programmeId, codeOrId) => findCase(kysely, contextOn(vault.session(false)), programmeId, codeOrId),
    history: (caseId) => historyOf(kysely, contextOn(vault.session(false)), caseId),
    messages: (filter) => messagesOf(kysely, contextOn(vault.session(false)), filter),
    verify: async () => (await audit()).faults,
    audit,
    async saveFlow(hash, flow, json, at) {
      await write(() => change(side.saveFlow, { hash, flow, json, at }));
    },
    async savedFlows() {
      return read(() => all(side.flows, {}));
    },
    eraseCase: (caseId, at, reason = 'patient-asked') =>
      erased(() => eraseCase(eraseRows, caseId, at, reason), caseKeyId(caseId), caseId),
    erasePerson: (personId, at, reason = 'left') =>
      erased(() => erasePerson(eraseRows, personId, at, reason), personKeyId(personId), personId),
    erasures: () => erasuresOf(kysely),
    caseIdOf: (programmeId, codeOrId) => caseIdOf(kysely, programmeId, codeOrId),
    proofOf: (caseId) => proofOf(kysely, caseId),
    dailyHead: (now, freshMs) => write(() => takeHead(ring, headRows, now, freshMs)),
    async overdueCases(programmeId, before) {
      const ids: string[] = [];
      await throughPages('', async (after) => {
        const page = await read(() => overduePage(retentionRows, programmeId, before, after));
        ids.push(...page.ids);
        return page;
      });
      return { ids, kept: await read(() => countCases(retentionRows, programmeId)) };
    },
    async dropTexts(before) {
      let count = 0;
      await throughPages(0, async (after) => {
        const page = await write(() => dropTextPage(retentionRows, before, after));
        count += page.dropped;
        return page;
      });
      return count;
    },
    verifyHeads: () => verifyHeads(kysely, ring),
    async look(caseId, by, at) {
      const before = await looksAt(kysely, caseId);
      await write(() => change(lookRows.note, { case_id: caseId, at, by }));
      return before;
    },
    ...signatureStore(kysely, ring, write),
    async rebind() {
      if ((await read(() => one(side.mark, { name: boundName })))?.value !== boundMark)
        await rebindAll(kysely, rebindRows, write);
    },
    async refold() {
      const shape = `${caseShape}.${boundMark}`;
      if ((await read(() => one(side.mark, { name: 'case-shape' })))?.value === shape) return;
      for (let after: string | null = ''; after !== null; ) {
        const from: string = after;
        after = await write((context) => refoldSome(context, refoldRows, from, refoldAtOnce));
      }
      await write(() => change(hot.setMark, { name: 'case-shape', value: shape }));
    },
    wereTaken: (programme_id, keys) =>
      read(function* ({ hot }) {
        const taken: boolean[] = [];
        for (const key of keys) {
          taken.push((yield* one(hot.seen, { key: eventKeyHash(ring, programme_id, key) })) !== undefined);
        }
        return taken;
      }),
    unpark: (id) =>
      write(function* () {
        return (yield* change(hot.parked.drop, { id })) === 1;
      }),
    rewrap: (after, limit) => write(() => rewrapSome(ring, wrappingRows, after, limit)),
    scrub: () => engine.scrub(),
    isSound: () => engine.isSound(),
    changedTables: () => engine.witnessed(),
    takeStock: () => engine.takeStock(),
    settleRestored: (now) => write(() => settleRestored(restoreRows, now)),
    async mark(name) {
      return (await read(() => one(side.mark, { name })))?.value ?? null;
    },
    async setMark(name, value) {
      await write(() => change(hot.setMark, { name, value }));
    },
    copyTo: (file) => engine.copyTo(file),
    async close() {
      await turns.idle();
      await engine.close();
    },
  };
}
