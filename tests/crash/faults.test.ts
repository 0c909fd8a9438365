import { afterEach, describe, expect, it } from 'vitest';
import { buildChild } from './build-child.ts';
import { runSeed } from './chance.ts';
import { endInOrder } from './checks.ts';
import { Clinic, type ClinicOptions, opensAt } from './clinic.ts';
import type { Manner } from './gateway.ts';
import type { Life } from './life.ts';

const nodeArguments = buildChild();
const minuteMs = 60_000;
const dayMs = 86_400_000;

describe(`a line on a bad machine or behind a bad gateway (CRASH_SEED=${runSeed})`, () => {
  let clinic: Clinic;
  const open = async (more: Partial<ClinicOptions> = {}): Promise<void> => {
    clinic = new Clinic(nodeArguments, { seed: runSeed, phones: 4, rate: 60, ...more });
    await clinic.prepare();
  };
  const until = async (seen: () => boolean, withinMs = 30_000): Promise<void> => {
    const deadline = Date.now() + withinMs;
    while (!seen() && Date.now() < deadline) await new Promise((resolve) => setTimeout(resolve, 10));
    expect(seen()).toBe(true);
  };
  /** Some worker has given the answer before the wait. */
  const timerRuns = (): boolean =>
    clinic.phones.some(
      ({ codes, sent }) => codes.length > 0 && sent.at(-1)?.text === '7' && sent.at(-1)?.answered === true,
    );
  /** The line ends in order once all is done, and nothing is wrong with what it leaves. */
  const end = async (life: Life, aheadMs = 3 * 60 * minuteMs): Promise<Awaited<ReturnType<typeof endInOrder>>> => {
    const found = await endInOrder(clinic, life, aheadMs);
    expect({ seed: runSeed, faults: found.faults }).toEqual({ seed: runSeed, faults: [] });
    return found;
  };
  afterEach(() => clinic.close());

  it('a full disk: no text is answered that is not kept, and the line goes on once there is room', async () => {
    await open();
    // The largest file it may write: what it has, and a little more.
    const full = clinic.start(null, 'ulimit -f 900');
    clinic.letIn();
    await full.port();
    await until(() => clinic.refused > 20);
    expect(full.isAlive()).toBe(true);
    const before = clinic.answered;
    expect(before).toBeGreaterThan(0);
    full.kill();
    await full.ended;
    await clinic.afterDeath(full, 'full disk');
    const life = clinic.start();
    await until(() => clinic.answered > before + 10);
    await end(life);
  });

  it('a database that becomes read-only: texts are refused, and taken again when it can be written', async () => {
    await open();
    const life = clinic.start();
    clinic.letIn();
    await until(() => clinic.answered > 6);
    await life.state({ readOnly: true });
    const refusedBefore = clinic.refused;
    await until(() => clinic.refused > refusedBefore + 10);
    const answered = clinic.answered;
    await new Promise((resolve) => setTimeout(resolve, 200));
    expect(clinic.answered).toBe(answered);
    await life.state({ readOnly: false });
    await until(() => clinic.answered > answered + 6);
    await end(life);
  });

  it('a clock that jumps ahead: what is due fires once', async () => {
    await open();
    const life = clinic.start();
    clinic.letIn();
    await until(timerRuns);
    await life.state({ jumpMs: 2 * 60 * minuteMs });
    await until(() => clinic.gateway.taken.some((one) => /: it is \d\d:\d\d\. LEAVE the slides/.test(one.text)));
    expect((await end(life)).timers).toBeGreaterThan(0);
  });

  it('a clock that jumps back: texts are still taken, and what was due fires once when its time comes again', async () => {
    await open();
    const life = clinic.start();
    clinic.letIn();
    await until(timerRuns);
    await life.state({ jumpMs: -2 * 60 * minuteMs });
    const answered = clinic.answered;
    await until(() => clinic.answered > answered + 2);
    expect((await end(life, 6 * 60 * minuteMs)).timers).toBeGreaterThan(0);
  });

  it('a clock that is years ahead after a restart: every timer fires once, no ladder runs away', async () => {
    await open();
    const life = clinic.start();
    clinic.letIn();
    await until(() => clinic.gateway.taken.some((one) => /: the patient stays until/.test(one.text)));
    await clinic.letOut();
    const before = clinic.gateway.taken.length;
    await life.state({ jumpMs: 1_000 * dayMs });
    await new Promise((resolve) => setTimeout(resolve, 1_500));
    expect(clinic.gateway.taken.length - before).toBeLessThan(60);
    life.kill('SIGTERM');
    await life.ended;
    clinic.noteLog(life);
    expect(clinic.logged.filter((line) => /step-failed|event-parked/.test(line))).toEqual([]);
  });

  it('another time zone of the machine changes no hour that is said', async () => {
    const said: string[] = [];
    for (const zone of ['Asia/Tokyo', 'America/Sao_Paulo']) {
      await open({ phones: 1, rate: 1 });
      const life = clinic.start(null, null, { TZ: zone });
      clinic.letIn();
      await until(() => clinic.gateway.taken.some((one) => /: the patient stays until/.test(one.text)));
      const text = clinic.gateway.taken.find((one) => /: the patient stays until/.test(one.text))!.text;
      said.push(/stays until (\d\d):\d\d/.exec(text)![1]!);
      await end(life);
      await clinic.close();
    }
    // 08:00 UTC is 11:00 in the clinic, wherever the machine stands.
    expect(new Date(opensAt).getUTCHours()).toBe(8);
    expect(said).toEqual(['11', '11']);
    await open();
  });

  it.each<Manner>(['hang', 'garbage', 'refuse', 'forget'])(
    'a gateway that does "%s" loses nothing that was heard',
    async (manner) => {
      await open({ answerWithinMs: 300 });
      const life = clinic.start();
      clinic.letIn();
      await until(() => clinic.answered > 6);
      clinic.gateway.manner = () => manner;
      const answered = clinic.answered;
      // Phones that get nothing ask again: the line keeps taking texts while its own do not go out.
      await until(() => clinic.answered > answered + 4);
      clinic.gateway.manner = () => 'take';
      await life.state({ jumpMs: 2 * minuteMs });
      const again = clinic.answered;
      await until(() => clinic.answered > again + 4);
      await end(life);
    },
  );
});
