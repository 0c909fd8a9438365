/**
 * The whole line in a process of its own, to be killed: real content, real file, real sockets. Orders come as JSON in
 * `CRASH_ORDERS`; the port is printed as `port N`. Loaded once into a start-up snapshot, so that a life costs little.
 */
import { randomBytes } from 'node:crypto';
import { createServer, type IncomingMessage } from 'node:http';
import v8 from 'node:v8';
import Database from 'better-sqlite3';
import { loadContent } from '../../src/content/load.ts';
import { dueAtOf } from '../../src/conversation/duties.ts';
import { registry } from '../../src/conversation/matters.ts';
import { Line } from '../../src/line/line.ts';
import type { Clock, Log, Store } from '../../src/line/ports.ts';
import { startRunner } from '../../src/line/runner.ts';
import { openKeyRing } from '../../src/store/keys.ts';
import { openStore } from '../../src/store/open.ts';
import type { LineStore } from '../../src/store/store.ts';
import { LoopbackChannel } from './loopback.ts';
import type { Change, KillPoint, Orders, State } from './orders.ts';

const content = loadContent(process.env.CRASH_ROOT!);
const nudgeEveryMs = 50;
const onTheirWay = "select count(*) from messages where status = 'sending'";

/** Dies at once when the ordered point is passed for the ordered time. */
function fuse(kill: Orders['kill']): (point: KillPoint) => void {
  let passed = 0;
  return (point) => {
    if (kill?.point !== point) return;
    passed += 1;
    if (passed !== kill.nth) return;
    process.kill(process.pid, 'SIGKILL');
    for (;;) Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, 1_000);
  };
}

/** Makes every statement of a transaction a point to die at. Returns the databases that were opened. */
function watchStatements(pass: (point: KillPoint) => void): Set<Database.Database> {
  const opened = new Set<Database.Database>();
  const { prepare } = Database.prototype;
  Database.prototype.prepare = function watched(this: Database.Database, sql: string) {
    opened.add(this);
    const statement = prepare.call(this, sql);
    const run = statement.run;
    statement.run = (...values: unknown[]) => {
      if (sql === 'commit') pass('committing');
      else if (this.inTransaction) pass('statement');
      const done = run.apply(statement, values as never);
      if (sql === 'commit') pass('committed');
      return done;
    };
    return statement;
  } as typeof prepare;
  return opened;
}

/** The store, with its steps as points to die at. */
function watchedStore(store: LineStore, pass: (point: KillPoint) => void): Store {
  return {
    ...store,
    load: async (events, flows) => {
      const loaded = await store.load(events, flows);
      pass('loaded');
      return loaded;
    },
    dueBefore: async (now, limit) => {
      const due = await store.dueBefore(now, limit);
      if (due.length > 0) pass('due');
      return due;
    },
    claimOutbox: async (...given) => {
      const rows = await store.claimOutbox(...given);
      if (rows.length > 0) pass('claimed');
      return rows;
    },
    settleOutbox: async (...given) => {
      await store.settleOutbox(...given);
      pass('settled');
    },
  };
}

async function live(): Promise<void> {
  const orders = JSON.parse(process.env.CRASH_ORDERS!) as Orders;
  const pass = fuse(orders.kill);
  const databases = watchStatements(pass);
  const { realAt, lineAt, rate } = orders.clock;
  let jumpedMs = 0;
  const clock: Clock = { now: () => Math.round(lineAt + (Date.now() - realAt) * rate + jumpedMs) };
  const log: Log = {
    write: (level, event, fields) => {
      if (level !== 'info') process.stderr.write(`${JSON.stringify({ level, event, ...fields })}\n`);
    },
  };
  const opened = await openStore({
    url: orders.url,
    keys: openKeyRing(orders.keyFile),
    dueAtOf: (of) => dueAtOf(content.programme, of),
    log,
  });
  pass('opened');
  const store = watchedStore(opened, pass);
  await store.recoverOutbox(clock.now());
  pass('recovered');
  const channel = new LoopbackChannel(orders.gatewayPort, pass, orders.answerWithinMs);
  const line = new Line({
    store,
    content,
    registry,
    clock,
    random: { bytes: (count) => randomBytes(count) },
    log,
    channels: new Map([[channel.name, channel]]),
    gather: () => new Promise(setImmediate),
  });
  const runner = startRunner(line, clock, log);
  const nudging = setInterval(() => runner.nudge(), nudgeEveryMs);

  const answer = async (request: IncomingMessage): Promise<{ status: number; body: string }> => {
    const url = new URL(request.url ?? '/', 'http://line.invalid');
    const body = await bodyOf(request);
    if (url.pathname === '/sms/in') {
      pass('heard');
      const from = { channel: 'sms', address: url.searchParams.get('from') ?? '' };
      const handled = await line.hearText(from, url.searchParams.get('id') ?? '', body, null);
      runner.nudge();
      pass('answer');
      return { status: handled === 'failed' ? 503 : 200, body: handled };
    }
    if (url.pathname === '/change') {
      const change = JSON.parse(body) as Change;
      jumpedMs += change.jumpMs ?? 0;
      if (change.readOnly !== undefined) {
        for (const db of databases) if (db.open) db.pragma(`query_only = ${change.readOnly ? 'on' : 'off'}`);
      }
    }
    const [own = null] = databases;
    const state: State = {
      now: clock.now(),
      nextOutboxAt: await store.nextOutboxAt(),
      nextDueAt: await store.nextDueAt(),
      parked: (await store.parked()).length,
      sending: own === null ? null : (own.prepare(onTheirWay).pluck().get() as number),
    };
    return { status: 200, body: JSON.stringify(state) };
  };
  const server = createServer((request, response) => {
    answer(request).then(
      ({ status, body }) => {
        response.writeHead(status, { 'content-type': 'text/plain' });
        response.end(body, () => status === 200 && request.url?.startsWith('/sms/in') && pass('answered'));
      },
      () => response.writeHead(500).end(),
    );
  });
  server.listen(0, '127.0.0.1', () => {
    process.stdout.write(`port ${(server.address() as { port: number }).port}\n`);
  });
  process.once('SIGTERM', async () => {
    clearInterval(nudging);
    server.close();
    await runner.stop();
    await line.idle();
    await opened.close();
    process.exit(0);
  });
}

async function bodyOf(request: IncomingMessage): Promise<string> {
  const parts: Buffer[] = [];
  for await (const part of request) parts.push(part as Buffer);
  return Buffer.concat(parts).toString('utf8');
}

if (v8.startupSnapshot.isBuildingSnapshot()) v8.startupSnapshot.setDeserializeMainFunction(() => void live());
else void live();
