/** What a programme needs of a machine, worked out from a run of the bench: `deploy/capacity.md`. */
import { smallFlags } from './chain.ts';
import type { Report } from './report.ts';

/** A programme by the patients it sees. The sizes are ours, invented to calculate with. */
interface Size {
  readonly name: string;
  readonly clinics: number;
  readonly patientsADay: number;
}

const sizes: readonly Size[] = [
  { name: 'a district', clinics: 20, patientsADay: 10 },
  { name: 'a country', clinics: 500, patientsADay: 500 },
  { name: 'many countries on one line', clinics: 5_000, patientsADay: 10_000 },
];

/** Share of a day's texts in its busiest hour, and how much denser its busiest minute is (our convention). */
const busiest = { hourOfDay: 0.2, minuteOfHour: 4 } as const;
const daysAYear = 365;

const whole = (value: number): string => Math.round(value).toLocaleString('en');
const few = (value: number): string => (value >= 10 ? whole(value) : value.toFixed(value >= 1 ? 1 : 2));

function row({ name, clinics, patientsADay }: Size, report: Report): string {
  const { heard, sent, bytes } = report.growth.wholeCase;
  const perCase = Object.values(bytes).reduce((total, one) => total + one, 0);
  const textsADay = patientsADay * heard;
  const aSecond = ((textsADay * busiest.hourOfDay) / 3_600) * busiest.minuteOfHour;
  const chain = report.chain.find((one) => one.rate === 100)!;
  const core = chain.cpuMs === null ? '-' : `${few((aSecond * chain.cpuMs) / 10)} %`;
  const gigabytes = (perCase * patientsADay * daysAYear) / 1e9;
  const cells = [
    name,
    whole(clinics),
    whole(patientsADay),
    whole(textsADay),
    whole(patientsADay * sent),
    few(aSecond),
    core,
  ];
  return `| ${[...cells, `${few(gigabytes)} GB`].join(' | ')} |`;
}

function sharedRates({ shared }: Report): string {
  if (!shared || shared.length === 0) return '';
  const rates = shared.map((one) => `${whole(one.rate)} with ${one.processes}`);
  return ` (texts answered a second: ${rates.join(', ')}, server and people on the same cores)`;
}

/** The whole page. */
export function capacityPage(report: Report): string {
  const { heard, sent, bytes } = report.growth.wholeCase;
  const { alarms, small, growth, starts, chain, day, cores } = report;
  const perCase = Object.values(bytes).reduce((total, one) => total + one, 0);
  const fastest = chain.at(-1)!;
  const share = (table: string): string => `${Math.round((100 * (bytes[table] ?? 0)) / perCase)} %`;
  const [, ...grown] = growth.lines;
  const worst = Math.max(...grown.map((one) => one.cpuMs.median / growth.lines[0]!.cpuMs.median));
  return `# What a machine must hold

Written by \`npm run readme\` from the last run of the bench (${day}, ${cores} cores; \`tests/bench/last.json\`, tables in the README). The sizes of programmes are invented, to calculate with; put in your own.

A patient who is led from the lump to the closed result takes ${heard} texts to the line and ${sent} from it, all people together, and ${whole(perCase / 1000)} kB on disk. In its busiest hour a line has a fifth of the day's texts, in the busiest minute of it four times as many a second (our convention).

| programme | clinics | new patients a day | texts in, a day | texts out, a day | texts in a second, busiest minute | of one core then | disk a year |
| --- | --- | --- | --- | --- | --- | --- | --- |
${sizes.map((one) => row(one, report)).join('\n')}

- **Processor.** One line process uses one core; the figures above are of the whole chain, HTTP and reports too. On the bench's machine ${fastest.rate} texts a second came in for ${fastest.seconds} s with ${fastest.unanswered} left unanswered, ${few(fastest.p99Ms)} ms at p99; with ${alarms.rate} a second coming in an SOS had first aid within ${few(alarms.p99Ms)} ms at p99.
- **Memory.** ${starts.plain.megabytes === null ? 'Measure it there' : `${Math.round(starts.plain.megabytes)} MB after the start`}. On a machine with little of it set \`NODE_OPTIONS="${smallFlags.join(' ')}"\`: ${small.endMb === null ? 'measure it there' : `${Math.round(small.endMb)} MB`} after ${whole(small.run.texts)} texts, answered as quickly as ever (${few(small.run.p99Ms)} ms at p99). Without the second flag the first leaves the old objects no room, and the line spends its time tidying up.
- **Disk.** Of a case ${share('messages')} are texts, ${share('case_events')} the history, ${share('cases')} the case as it stands, the rest keys. Keep three times the year's figure free: the database, a backup beside it, and room to restore (our convention). The database's log stays near ${whole(small.mostLogBytes / 1e6)} MB.
- **The disk's commit** is what the line waits for: one a turn of its loop, whatever comes in together. A disk that takes 10 ms to make a write durable makes each answer some 20 ms later, and still takes what comes in together by one commit (worked out, not measured). Cards and sticks that lie about it lose data when the power goes; the line cannot know (common practice, no source).
- **Growth.** With 100,000 whole cases, a million cases' rows, 20,000 people or 100,000 timers stored, a text costs ${worst.toFixed(2)} times what it costs on an empty line at most; once a day, for the day's head, the line looks through all its cases and handles nothing meanwhile (0.6 s for a million of them, measured once by hand).
- **Gateway.** It is the narrow place: one modem sends a text every 3 to 6 s (common practice, no source). Work out your own from the texts out in the busiest hour, and set its pace in \`deploy/sms.md\`.
- **Several processes** share one PostgreSQL database where one core is not enough${sharedRates(report)}; each counts its gateway's pace and the day's texts by itself. What one that died had taken to send goes out from another after two minutes at most.
`;
}
