/** What must hold on a database after any number of deaths. */
import type { Clinic } from './clinic.ts';
import type { Life } from './life.ts';

export interface Found {
  /** One line for each promise that was broken. */
  readonly faults: readonly string[];
  readonly answered: number;
  readonly texts: number;
  readonly doubled: number;
  readonly timers: number;
  readonly codes: number;
}

/** The clinic closes, the line ends in order once all is done up to `aheadMs` on. */
export async function endInOrder(clinic: Clinic, life: Life, aheadMs: number): Promise<Found> {
  await clinic.letOut();
  await clinic.settle(life, aheadMs);
  life.kill('SIGTERM');
  await life.ended;
  clinic.noteLog(life);
  return afterwards(clinic);
}

/** What the lives logged as an error, the first five. */
export function errorsOf(clinic: Clinic): readonly string[] {
  return clinic.logged.filter((line) => /"error"|failed|Error/.test(line)).slice(0, 5);
}

interface Row {
  readonly id: string;
  readonly direction: 'in' | 'out';
  readonly status: string;
  readonly not_before: number;
  readonly recipient: string;
  readonly lane: number;
  readonly seq: string | number;
}

/** Looks at the database, which no line holds, and at what the gateway got. */
export async function afterwards(clinic: Clinic): Promise<Found> {
  const faults: string[] = [];
  const rows = await clinic.database.rows<Row>(
    'select id, direction, status, not_before, recipient, lane, seq from messages',
  );
  if (!(await clinic.database.isSound())) faults.push('the file is damaged');
  faults.push(...(await clinic.sosUnheard()));
  const store = await clinic.store();
  try {
    faults.push(...(await store.verify()));
    for (const { code } of await store.parked()) faults.push(`an event was parked: ${code}`);
    const answered = await heardOnce(clinic, store, faults);
    const doubled = deliveredAtLeastOnce(clinic, rows, faults);
    const { timers, codes } = await firedOnce(clinic, store, faults);
    return { faults, answered, texts: rows.filter((row) => row.direction === 'out').length, doubled, timers, codes };
  } finally {
    await store.close();
  }
}

type Opened = Awaited<ReturnType<Clinic['store']>>;

/** Every text answered 2xx is in the history once, in its words, and those of one phone in their order. */
async function heardOnce(clinic: Clinic, store: Opened, faults: string[]): Promise<number> {
  let count = 0;
  for (const [index, phone] of clinic.phones.entries()) {
    const kept = (await store.messages({ personId: `w${index}` })).filter((one) => one.direction === 'in');
    const answered = phone.sent.filter((one) => one.answered);
    count += answered.length;
    for (const one of answered) {
      const found = kept.filter((row) => row.id === one.id);
      if (found.length !== 1) faults.push(`${one.id} was answered and is ${found.length} times in the history`);
      else if (found[0]!.text !== one.text) faults.push(`${one.id} has other words in the history`);
    }
    const order = kept.map((row) => Number(row.id.split('-')[1]));
    if (order.some((value, place) => place > 0 && value < order[place - 1]!))
      faults.push(`${phone.number}: other order`);
  }
  return count;
}

/** Every text that was queued reached the gateway; again only where its fate was unknown at a death. */
function deliveredAtLeastOnce(clinic: Clinic, rows: readonly Row[], faults: string[]): number {
  const times = new Map<string, number>();
  for (const { id } of clinic.gateway.taken) times.set(id, (times.get(id) ?? 0) + 1);
  const doubts = new Map<string, number>();
  for (const id of clinic.doubtful) doubts.set(id, (doubts.get(id) ?? 0) + 1);
  // A reminder that waits for the morning, and what waits behind it.
  const laneOf = (row: Row): string => `${row.recipient} ${row.lane}`;
  const waits = rows.filter((row) => row.status === 'queued' && row.not_before > clinic.endedAt);
  const isBehind = (row: Row): boolean =>
    waits.some((one) => laneOf(one) === laneOf(row) && Number(one.seq) <= Number(row.seq));
  const queued = new Set(rows.filter((row) => row.direction === 'out').map((row) => row.id));
  for (const id of times.keys()) if (!queued.has(id)) faults.push(`${id} was sent and is not in the history`);
  for (const row of rows) {
    if (row.direction === 'in' || row.status === 'expired' || row.status === 'replaced') continue;
    if (row.status === 'queued' && isBehind(row)) continue;
    if (!times.has(row.id))
      faults.push(
        `${row.id} (${row.status}) never reached the gateway (${(row.not_before - clinic.endedAt) / 60_000} min)`,
      );
  }
  let doubled = 0;
  for (const [id, count] of times) {
    doubled += count - 1;
    if (count - 1 > (doubts.get(id) ?? 0))
      faults.push(`${id} was sent ${count} times, in doubt ${doubts.get(id) ?? 0}`);
  }
  return doubled;
}

/**
 * The timer of the fixative fired once for each case that got as far, by itself or because the answer before it came
 * after its time; nothing that is due is left; each code belongs to one case.
 */
async function firedOnce(clinic: Clinic, store: Opened, faults: string[]): Promise<{ timers: number; codes: number }> {
  let timers = 0;
  for (const caseId of await clinic.caseIds()) {
    const of = await store.findCase('tamboro', caseId);
    if (!of) {
      faults.push(`case ${caseId} cannot be read`);
      continue;
    }
    const texts = (await store.messages({ caseId })).filter((one) => one.direction === 'out');
    const begun = texts.some((one) => /: the patient stays until \d\d:\d\d/.test(one.text));
    const said = texts.filter((one) => /: it is \d\d:\d\d\. LEAVE the slides/.test(one.text));
    // A question asked again answers a text or a duty; what a timer says has the timer's id.
    const fired = said.filter((one) => /^(?!overdue:).*:d\d+:/.test(one.id)).length;
    timers += fired;
    if (fired > 1) faults.push(`case ${caseId}: its timer fired ${fired} times`);
    if (begun && said.length === 0 && of.status !== 'labelling') faults.push(`case ${caseId}: its timer never fired`);
  }
  const owner = new Map<string, string>();
  for (const phone of clinic.phones) {
    for (const code of phone.codes) {
      if ((owner.get(code) ?? phone.number) !== phone.number) faults.push(`code ${code} was given to two phones`);
      owner.set(code, phone.number);
      const found = await store.findCase('tamboro', code);
      if (!found) faults.push(`code ${code} was sent and belongs to no case`);
      else if (found.specimens.filter((one) => one.code === code).length !== 1)
        faults.push(`code ${code} is issued twice`);
    }
    const news = phone.sent.filter((one) => one.answered && one.text.startsWith('NEW ')).length;
    const opened = new Set(phone.codes).size;
    if (opened > news) faults.push(`${phone.number}: ${news} patients, ${opened} codes`);
  }
  return { timers, codes: owner.size };
}
