/** A clinic on one database: phones that write, a gateway that receives, and a line that dies and is started again. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { loadContent } from '../../src/content/load.ts';
import { dueAtOf } from '../../src/conversation/duties.ts';
import type { Person, Role } from '../../src/conversation/world.ts';
import { type KeyRing, openKeyRing } from '../../src/store/keys.ts';
import { openStore } from '../../src/store/open.ts';
import type { LineStore } from '../../src/store/store.ts';
import { probe } from '../probe/probe.ts';
import { packageRoot } from './build-child.ts';
import { type Chance, chanceOf } from './chance.ts';
import { type Database, fileDatabase, serverDatabase } from './database.ts';
import { Gateway } from './gateway.ts';
import { Life } from './life.ts';
import { killPoints, type Orders } from './orders.ts';
import { Phone } from './phone.ts';

const content = loadContent(packageRoot);
/** A life that its fuse did not end is ended so long after it began to listen, real ms. */
const longestLifeMs = 3_000;
/** A life that is ended at any moment hears fewer texts than this. */
const textsALife = 12;
/** A life that does not even begin is ended after so long, real ms. */
const longestBirthMs = 20_000;
/** Monday, 11:00 in the clinic. */
export const opensAt = Date.UTC(2030, 2, 4, 8);

export interface ClinicOptions {
  readonly seed: number;
  readonly phones: number;
  /** Line seconds in a real second. */
  readonly rate: number;
  readonly answerWithinMs?: number;
  /** `postgres://…` that several lines share; absent = a file of one line. */
  readonly url?: string;
  /** How many times as long a life lasts as is usual. */
  readonly longLives?: number;
}

export class Clinic {
  readonly gateway = new Gateway();
  readonly phones: Phone[];
  readonly chance: Chance;
  readonly folder: string;
  readonly database: Database;
  /** Ids of texts that were on their way when a life ended, once for each death. */
  readonly doubtful: string[] = [];
  readonly deaths = new Map<string, number>();
  readonly logged: string[] = [];
  kills = 0;
  /** The line's clock when it came to rest. */
  endedAt = 0;
  /** Deliveries that were answered 200. */
  answered = 0;
  /** Deliveries that the line could not keep. */
  refused = 0;
  private readonly nodeArguments: readonly string[];
  private readonly options: ClinicOptions;
  private readonly realAt = Date.now();
  private lives: readonly Life[] = [];
  private open = true;
  private working: Promise<unknown> = Promise.resolve();

  constructor(nodeArguments: readonly string[], options: ClinicOptions) {
    this.nodeArguments = nodeArguments;
    this.options = options;
    this.chance = chanceOf(options.seed);
    this.folder = mkdtempSync(join(tmpdir(), 'neckline-crash-'));
    this.database = options.url ? serverDatabase(options.url) : fileDatabase(join(this.folder, 'data', 'neckline.db'));
    this.phones = Array.from({ length: options.phones }, (_unused, index) => {
      return new Phone({
        number: `+0005550${String(10_000 + index)}`,
        name: `p${index}`,
        chance: chanceOf(options.seed + 1 + index),
        deliver: async (from, id, text) => {
          const status = (await this.anyLife()?.hear(from, id, text)) ?? null;
          if (status === 200) this.answered += 1;
          else if (status !== null) this.refused += 1;
          return status;
        },
        isOpen: () => this.open,
      });
    });
    this.gateway.arrive = ({ id, to, text }) => this.phones.find((one) => one.number === to)?.receive(id, text);
  }

  /** One of the lives that may answer; what is brought to a dead one is brought again. */
  private anyLife(): Life | null {
    const alive = this.lives.filter((one) => one.isAlive());
    return alive[this.chance.below(alive.length)] ?? null;
  }

  /** Puts the people into a fresh database and opens the gateway. */
  async prepare(): Promise<void> {
    await this.gateway.open();
    const store = await this.store();
    const person = (id: string, role: Role, number: string): Person => ({
      id,
      programmeId: content.programme.id,
      name: `Person ${id}`,
      roles: [role],
      siteId: role === 'lab' ? 'velin' : 'oruma',
      locale: 'en',
      addresses: [{ channel: 'sms', address: number }],
      rank: role === 'doctor' ? 1 : 0,
      state: 'joined',
      practised: true,
      shared: false,
    });
    await store.putPeople([
      ...this.phones.map((phone, index) => person(`w${index}`, 'worker', phone.number)),
      person('d', 'doctor', '+000555020001'),
      person('l', 'lab', '+000555020002'),
      person('c', 'coordinator', '+000555020003'),
    ]);
    await store.close();
  }

  /** The database, while no line runs on it. */
  store(): Promise<LineStore> {
    return openStore({
      url: this.database.url,
      keys: this.keys,
      dueAtOf: (of) => dueAtOf(content.programme, of),
    });
  }

  /** What of an SOS of everybody is not heard, with the database as it was left. */
  async sosUnheard(): Promise<readonly string[]> {
    const { file } = this.database;
    return file === null ? [] : (await probe({ file, keys: this.keys, content, at: this.endedAt })).faults;
  }

  private get keys(): KeyRing {
    return openKeyRing(join(this.folder, 'keys', 'neckline.key'));
  }

  /** Starts the line. */
  start(kill: Orders['kill'] = null, shell: string | null = null, environment = {}): Life {
    this.gateway.life += 1;
    const orders: Orders = {
      root: packageRoot,
      url: this.database.url,
      keyFile: join(this.folder, 'keys', 'neckline.key'),
      gatewayPort: this.gateway.port,
      clock: { realAt: this.realAt, lineAt: opensAt, rate: this.options.rate },
      kill,
      answerWithinMs: this.options.answerWithinMs ?? 10_000,
    };
    const life = new Life(this.nodeArguments, orders, shell, environment);
    this.lives = [...this.lives.filter((one) => one.isAlive()), life];
    return life;
  }

  /** The phones begin to write. */
  letIn(): void {
    this.working = Promise.all(this.phones.map((phone) => phone.work()));
  }

  /** No phone writes any more; resolves when each has its last answer. */
  async letOut(): Promise<void> {
    this.open = false;
    for (const phone of this.phones) phone.close();
    await this.working;
  }

  /** One life that ends by SIGKILL, at a named point or at any moment. */
  async liveAndDie(): Promise<void> {
    const byFuse = this.chance.below(10) < 6;
    const point = killPoints[this.chance.below(killPoints.length)]!;
    const times = this.options.longLives ?? 1;
    const once = point === 'opened' || point === 'recovered';
    const nth = once ? 1 : 1 + this.chance.below(times * (point === 'statement' ? 120 : 8));
    // By texts, not by the clock, so that a busy machine sees as much traffic as an idle one.
    const afterTexts = this.answered + this.chance.below(times * textsALife);
    const afterMs = this.chance.below(40);
    const life = this.start(byFuse ? { point, nth } : null);
    const birth = setTimeout(() => life.kill(), longestBirthMs);
    await life.port();
    clearTimeout(birth);
    const death = setTimeout(() => life.kill(), times * longestLifeMs);
    while (!byFuse && life.isAlive() && this.answered < afterTexts) await pause(3);
    if (!byFuse) await pause(afterMs);
    if (!byFuse) life.kill();
    await life.ended;
    clearTimeout(death);
    await this.afterDeath(life, byFuse ? point : 'any moment');
  }

  /** Notes what was on its way. */
  async afterDeath(life: Life, why: string): Promise<void> {
    this.kills += 1;
    this.deaths.set(why, (this.deaths.get(why) ?? 0) + 1);
    this.noteLog(life);
    this.doubtful.push(...(await this.onTheirWay()));
  }

  /** Ids of texts that a line has taken to send. On a server those of all lines. */
  async onTheirWay(): Promise<readonly string[]> {
    const rows = await this.database.rows<{ id: string }>("select id from messages where status = 'sending'");
    return rows.map(({ id }) => id);
  }

  /** Ids of all cases, while no line runs. */
  async caseIds(): Promise<readonly string[]> {
    return (await this.database.rows<{ id: string }>('select id from cases order by id')).map(({ id }) => id);
  }

  /** Keeps what a life logged; a text that got no answer in time is in doubt too. */
  noteLog(life: Life): void {
    const log = life.logged.join('');
    this.logged.push(...log.split('\n').filter((line) => line !== ''));
    for (const found of log.matchAll(/"event":"text-unsure","message":"([^"]+)"/g)) this.doubtful.push(found[1]!);
  }

  /** Waits until everything due is done and sent, jumping from instant to instant up to `aheadMs` after now. */
  async settle(life: Life, aheadMs: number): Promise<void> {
    const deadline = Date.now() + 40_000;
    let left = aheadMs;
    while (Date.now() < deadline) {
      const state = await life.state();
      if (state === null) throw new Error(`the line died while it settled: ${life.logged.slice(-3).join('')}`);
      this.endedAt = state.now;
      const next = Math.min(
        state.nextOutboxAt ?? Number.POSITIVE_INFINITY,
        state.nextDueAt ?? Number.POSITIVE_INFINITY,
      );
      const sending = state.sending ?? (await this.onTheirWay()).length;
      if (next > state.now + 1_000 && sending === 0) {
        const jumpMs = Math.min(left, next - state.now);
        if (left <= 0 || !Number.isFinite(next)) return;
        left -= jumpMs;
        await life.state({ jumpMs });
      }
      await pause(30);
    }
    throw new Error('the line did not come to rest');
  }

  async close(): Promise<void> {
    this.open = false;
    for (const life of this.lives) life.kill();
    for (const life of this.lives) await life.ended;
    await this.working;
    await this.gateway.close();
    rmSync(this.folder, { recursive: true, force: true });
  }
}

function pause(ms: number): Promise<void> {
  return new Promise((resolve) => setTimeout(resolve, ms));
}
