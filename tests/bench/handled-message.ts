/** The transaction of one handled message: through the store, and the same statements run by hand. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Sqlite from 'better-sqlite3';
import { type Case, evolve, noCase } from '../../src/case/case.ts';
import type { CaseRecord } from '../../src/case/events.ts';
import type { Person } from '../../src/conversation/world.ts';
import type { ChangeSet } from '../../src/line/ports.ts';
import { planChange } from '../../src/store/commit.ts';
import type { Context, Memory } from '../../src/store/context.ts';
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
const warmRounds = 2;
const rounds = 7;
const aloneTurns = 5;
const togetherTurns = 15;
const keys = keyRingOf(Buffer.alloc(32, 7));

interface Seconds {
  readonly product: number;
  readonly byHand: number;
}

/** What was measured: messages per second, and the statements of one message. */
export interface HandledMessage {
  readonly alone: Seconds;
  readonly together: Seconds;
  readonly statements: readonly string[];
}

/** One person answering question after question: each change set follows from the one before. */
class Talk {
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

/** Measures both in turns, message by message, so that a disk that slows down slows both. */
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
  const everybody = talks.map((_, index) => person(`w${index}`, { siteId: `w${index}` }));
  const recorder = await startRecorder(join(folder, 'recorded.db'));
  const product = await openStore({ url: `sqlite:${join(folder, 'product.db')}`, keys });
  const hand = await byHand(join(folder, 'by-hand.db'));
  await product.putPeople(everybody);
  hand.run([await recorder.putPeople(everybody)]);

  let statements: readonly string[] = [];
  /** Seconds of both for one group of messages. */
  const once = async (changes: readonly ChangeSet[]): Promise<Seconds> => {
    const calls = await recorder.commit(changes);
    statements = calls[0]!.map((call) => call.statement.text);
    const start = performance.now();
    const outcomes = await product.commit(changes);
    const middle = performance.now();
    hand.run(calls);
    const end = performance.now();
    if (outcomes.some((one) => one !== 'committed')) throw new Error(`a change ended ${outcomes.join(' ')}`);
    return { product: (middle - start) / 1000, byHand: (end - middle) / 1000 };
  };
  const alone: Seconds[] = [];
  const together: Seconds[] = [];
  for (let round = -warmRounds; round < rounds; round += 1) {
    const aloneNow: Seconds[] = [];
    for (let turn = 0; turn < aloneTurns; turn += 1) {
      for (const talk of talks) aloneNow.push(await once([talk.next()]));
    }
    const togetherNow: Seconds[] = [];
    for (let turn = 0; turn < togetherTurns; turn += 1) togetherNow.push(await once(talks.map((talk) => talk.next())));
    if (round < 0) continue;
    alone.push(sum(aloneNow, aloneTurns * people));
    together.push(sum(togetherNow, togetherTurns * people));
  }
  await product.close();
  await recorder.close();
  hand.close();
  return { alone: medianRates(alone), together: medianRates(together), statements };
}

/** Seconds for each message. */
function sum(list: readonly Seconds[], messages: number): Seconds {
  const total = (of: keyof Seconds) => list.reduce((so, one) => so + one[of], 0) / messages;
  return { product: total('product'), byHand: total('byHand') };
}

/** Messages per second of the median round. */
function medianRates(list: readonly Seconds[]): Seconds {
  const rate = (of: keyof Seconds) => {
    const sorted = list.map((one) => one[of]).sort((a, b) => a - b);
    return 1 / sorted[Math.floor(sorted.length / 2)]!;
  };
  return { product: rate('product'), byHand: rate('byHand') };
}

/** Runs changes on a database of its own and keeps each statement with the values that the store gave it. */
async function startRecorder(file: string) {
  const engine = await openSqlite(file, false);
  const hot = hotStatements(engine.kysely, sqliteDialect);
  const roster = peopleStatements(engine.kysely);
  const vault = keyVault(keys, hot);
  const memory: Memory = { people: recent(1), heads: recent(people), tags: recent(1) };
  const within = async (steps: (context: Context) => Steps<void>): Promise<void> => {
    const session = vault.session(true);
    await engine.write(() => steps({ hot, ring: keys, keys: session, memory, dueAtOf: () => null }));
    session.publish();
  };
  return {
    async putPeople(everybody: readonly Person[]): Promise<Call[]> {
      const calls: Call[] = [];
      await within(function* (context) {
        for (const one of everybody) yield* keeping(putPerson(context, roster, one), calls);
      });
      return calls;
    },
    async commit(changes: readonly ChangeSet[]): Promise<Call[][]> {
      const calls: Call[][] = [];
      await within(function* (context) {
        for (const one of changes) {
          const plan = yield* planChange(context, one);
          if (!(plan instanceof Plan)) throw new Error(`a change ended ${plan}`);
          yield* plan.perform();
          for (const { caseId, version, head } of plan.heads) memory.heads.put(caseId, { version, head });
          calls.push(plan.writes.map((write) => write.call));
        }
      });
      return calls;
    },
    close: () => engine.close(),
  };
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
