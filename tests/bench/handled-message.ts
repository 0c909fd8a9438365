/** The transaction of one handled message: through the store, and the same statements run by hand. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Sqlite from 'better-sqlite3';
import { type Case, evolve, noCase } from '../../src/case/case.ts';
import type { CaseRecord } from '../../src/case/events.ts';
import type { ChangeSet } from '../../src/line/ports.ts';
import { planChange } from '../../src/store/commit.ts';
import type { Context } from '../../src/store/context.ts';
import { keyVault } from '../../src/store/data-keys.ts';
import { openSqlite, sqliteDialect } from '../../src/store/dialects/sqlite.ts';
import { hotStatements } from '../../src/store/hot.ts';
import { keyRingOf } from '../../src/store/keys.ts';
import { openStore } from '../../src/store/open.ts';
import { peopleStatements, putPerson } from '../../src/store/people.ts';
import { Plan } from '../../src/store/plan.ts';
import { recent } from '../../src/store/recent.ts';
import type { Call, Steps } from '../../src/store/statement.ts';
import {
  change,
  message,
  morning,
  opened,
  person,
  phone,
  programmeId,
  stateOn,
  timer,
} from '../contract/store-samples.ts';

const people = 32;
const rounds = 8;
const aloneEachRound = 8;
const groupsEachRound = 12;
const keys = keyRingOf(Buffer.alloc(32, 7));

/** What was measured: messages per second, and the statements of one message. */
export interface HandledMessage {
  readonly alone: { readonly product: number; readonly byHand: number };
  readonly together: { readonly product: number; readonly byHand: number };
  readonly statements: readonly string[];
}

/** One person answering question after question: each change set follows from the one before. */
export class Talk {
  private readonly id: string;
  private turn = 0;
  private value: Case;

  constructor(index: number) {
    this.id = `w${index}`;
    this.value = noCase(`c${index}`, programmeId);
  }

  next(): ChangeSet {
    const { id, turn } = this;
    const eventId = `sms:${id}:${turn}`;
    const record: CaseRecord = {
      caseId: this.value.id,
      sequence: this.value.sequence + 1,
      at: morning + turn,
      by: id,
      eventId,
      flow: 'new@6f1c2a',
      event:
        turn === 0
          ? ({ ...opened, ownerId: id, siteId: id } as CaseRecord['event'])
          : { type: 'answered', field: `field-${turn % 40}`, item: turn % 2 === 0 ? 'n1' : null, value: 'solid' },
    };
    this.value = evolve(this.value, record);
    this.turn += 1;
    const version = turn === 0 ? null : turn;
    return change(eventId, {
      at: morning + turn,
      keys: [eventId, `body:${id}:${turn}`],
      inbound: { address: phone(id), personId: id, caseId: this.value.id, text: '2', networkAt: morning + turn },
      conversation: { personId: id, state: { ...stateOn(this.value.id, `${eventId}:0`), entries: turn }, version },
      cases: [{ value: this.value, version, records: [record] }],
      outbox: [
        message(`${eventId}:0`, id, {
          caseId: this.value.id,
          text: 'AK 44 F: What is it made of? 1 solid 2 mixed 3 like a sponge 4 only fluid 9 cannot tell',
        }),
      ],
      cancelDue: [{ personId: id, frameId: 'f1', name: null }],
      due: [timer(`${eventId}:d0`, id, morning + turn + 1_800_000)],
    });
  }
}

/** Measures both in turns, so that a disk that slows down slows both. */
export async function measureHandledMessage(): Promise<HandledMessage> {
  const folder = mkdtempSync(join(tmpdir(), 'neckline-bench-'));
  try {
    return await measureIn(folder);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

async function measureIn(folder: string): Promise<HandledMessage> {
  const talks = Array.from({ length: people }, (_, index) => new Talk(index));
  const perRound = aloneEachRound + groupsEachRound;
  const turns = 1 + (rounds + 2) * perRound;
  const changes = Array.from({ length: turns }, () => talks.map((talk) => talk.next()));
  const recorded = await record(join(folder, 'recorded.db'), changes);

  const product = await openStore({ url: `sqlite:${join(folder, 'product.db')}`, keys });
  await product.putPeople(talks.map((_, index) => person(`w${index}`, { siteId: `w${index}` })));
  const hand = await byHand(join(folder, 'by-hand.db'));
  hand.run(recorded.people);

  const seconds = {
    aloneProduct: [] as number[],
    aloneHand: [] as number[],
    groupProduct: [] as number[],
    groupHand: [] as number[],
  };
  let turn = 0;
  const runRound = async (): Promise<void> => {
    const alone = { from: turn, to: turn + aloneEachRound };
    turn += perRound;
    const timed = async (into: number[], messages: number, work: () => Promise<void> | void) => {
      const from = performance.now();
      await work();
      into.push((performance.now() - from) / 1000 / messages);
    };
    // One person after another, so that each answers as many questions alone as together.
    await timed(seconds.aloneProduct, aloneEachRound * people, async () => {
      for (let at = alone.from; at < alone.to; at += 1)
        for (const one of changes[at]!) check(await product.commit([one]));
    });
    await timed(seconds.aloneHand, aloneEachRound * people, () => {
      for (let at = alone.from; at < alone.to; at += 1) for (const one of recorded.changes[at]!) hand.run([one]);
    });
    await timed(seconds.groupProduct, groupsEachRound * people, async () => {
      for (let at = alone.to; at < turn; at += 1) check(await product.commit(changes[at]!));
    });
    await timed(seconds.groupHand, groupsEachRound * people, () => {
      for (let at = alone.to; at < turn; at += 1) hand.run(recorded.changes[at]!);
    });
  };
  check(await product.commit(changes[0]!));
  hand.run(recorded.changes[0]!);
  turn = 1;
  // Two rounds for the compiler to warm up.
  await runRound();
  await runRound();
  for (const list of Object.values(seconds)) list.length = 0;
  for (let round = 0; round < rounds; round += 1) await runRound();
  await product.close();
  hand.close();
  return {
    alone: { product: rate(seconds.aloneProduct), byHand: rate(seconds.aloneHand) },
    together: { product: rate(seconds.groupProduct), byHand: rate(seconds.groupHand) },
    statements: recorded.changes[1]![0]!.map((call) => call.statement.text),
  };
}

function check(outcomes: readonly string[]): void {
  const other = outcomes.find((one) => one !== 'committed');
  if (other !== undefined) throw new Error(`a change of the benchmark ended ${other}`);
}

/** Messages per second of the median round. */
function rate(secondsEach: readonly number[]): number {
  const sorted = [...secondsEach].sort((a, b) => a - b);
  return 1 / sorted[Math.floor(sorted.length / 2)]!;
}

/** Runs the changes once and keeps each statement with the values that the store gave it. */
async function record(file: string, changes: readonly (readonly ChangeSet[])[]) {
  const engine = await openSqlite(file, false);
  const hot = hotStatements(engine.kysely, sqliteDialect);
  const roster = peopleStatements(engine.kysely);
  const vault = keyVault(keys, hot);
  const memory = { people: recent<string, never>(1), heads: recent<string, never>(1), tags: recent<string, never>(1) };
  const within = async (steps: (context: Context) => Steps<void>): Promise<void> => {
    const session = vault.session(true);
    await engine.write(() => steps({ hot, ring: keys, keys: session, memory, dueAtOf: () => null }));
    session.publish();
  };
  const people: Call[] = [];
  await within(function* (context) {
    for (const index of changes[0]!.keys()) {
      yield* keeping(putPerson(context, roster, person(`w${index}`, { siteId: `w${index}` })), people);
    }
  });
  const all: Call[][][] = [];
  for (const group of changes) {
    const calls: Call[][] = [];
    await within(function* (context) {
      for (const one of group) {
        const plan = yield* planChange(context, one);
        if (!(plan instanceof Plan)) throw new Error(`a change of the benchmark ended ${plan}`);
        yield* plan.perform();
        calls.push(plan.writes.map((write) => write.call));
      }
    });
    all.push(calls);
  }
  await engine.close();
  return { people: [people], changes: all };
}

function* keeping(steps: Steps<unknown>, calls: Call[]): Steps<void> {
  let next = steps.next();
  while (!next.done) {
    calls.push(next.value);
    next = steps.next(yield next.value);
  }
}

/** The same statements with the same values, prepared once, in one durable transaction a group. */
async function byHand(file: string) {
  await (await openSqlite(file, false)).close();
  const db = new Sqlite(file);
  db.pragma('journal_mode = wal');
  db.pragma('synchronous = full');
  db.pragma('foreign_keys = on');
  db.pragma('secure_delete = fast');
  db.pragma('temp_store = memory');
  db.pragma('wal_autocheckpoint = 4000');
  const prepared = new Map<string, Sqlite.Statement>();
  const ready = (text: string) => {
    const known = prepared.get(text);
    if (known) return known;
    const made = db.prepare(text);
    prepared.set(text, made);
    return made;
  };
  const group = db.transaction((groups: readonly (readonly Call[])[]) => {
    for (const calls of groups) {
      for (const { statement, values } of calls) {
        const made = ready(statement.text);
        if (statement.reads) made.all(values);
        else made.run(values);
      }
    }
  }).immediate;
  return { run: group, close: () => db.close() };
}
