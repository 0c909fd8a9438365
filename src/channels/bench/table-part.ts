/** What lies on the table for one patient: slides with their code, the label, what runs. */
import { answerOf, type Case, type Specimen } from '../../case/case.ts';
import { labelLines } from '../../case/label.ts';
import { FIX_WITHIN_SECONDS } from '../../clinical/fixation.ts';
import { labelLocale, labelWords } from '../../conversation/matters/label-words.ts';
import { specimenLabel } from '../../conversation/matters/labelling.ts';
import { durationOf, siteOf } from '../../conversation/programme.ts';
import { localTime } from '../../conversation/schedule.ts';
import type { Line } from '../../line/line.ts';
import type { Clock } from '../../line/ports.ts';
import type { Table, TableSpecimen, TableTimer } from './page/table.ts';
import { type Answer, type Asked, type BenchPart, ok, refused } from './part.ts';

/** How far ahead a timer of the table is looked for, ms: the longest watch is an hour. */
const aheadMs = 6 * 3_600_000;
/** Rows looked through at most. */
const rowsAtMost = 500;

export class TablePart implements BenchPart {
  readonly get = { '/table': (asked: Asked) => this.table(asked) };
  private readonly line: Line;
  private readonly clock: Clock;
  /** Of the label: that of the page. */
  private readonly language: string;

  constructor(line: Line, clock: Clock, language: string) {
    this.line = line;
    this.clock = clock;
    this.language = language;
  }

  private async table({ query }: Asked): Promise<Answer> {
    const { programme } = this.line.options.content;
    const of = await this.line.store.findCase(programme.id, query.get('case') ?? '');
    if (!of) return refused(404, 'There is no such case.');
    const roster = await this.line.store.roster(programme.id);
    const locale = labelLocale({ programme, roster }, of, this.language);
    // Whatever ended there lies on no table any more.
    const open = of.specimens.filter((one) => one.end === null);
    const table: Table = {
      caseId: of.id,
      fixSeconds: FIX_WITHIN_SECONDS,
      specimens: open.map((one) => this.specimen(of, one, locale)),
      timers: [...fixingTimers(open, this.line), ...(await this.watch(of, open))],
    };
    return ok(table);
  }

  private specimen(of: Case, specimen: Specimen, locale: string): TableSpecimen {
    const { programme, texts } = this.line.options.content;
    const year = answerOf(of, 'patient.birthYear');
    const label = specimenLabel(specimen, {
      person: { mode: 'by-hand', birthYear: typeof year === 'number' ? year : null },
      taken: localTime(specimen.takenAt ?? this.clock.now(), siteOf(programme, of.siteId).zone),
      site: siteOf(programme, of.siteId).name,
    });
    const planned = Math.max(specimen.slidesPlanned, specimen.slides.length);
    return {
      id: specimen.id,
      code: specimen.code,
      slides: Array.from({ length: planned }, (_, place) => specimen.slides[place] ?? null),
      label: specimen.fixedAt === null ? [] : labelLines(label, labelWords(texts, locale)),
    };
  }

  /** The watch as the line itself will end it: the open timer of the case after its fixing. */
  private async watch(of: Case, specimens: readonly Specimen[]): Promise<readonly TableTimer[]> {
    const from = Math.max(0, ...specimens.map((one) => one.fixedAt ?? 0));
    if (from === 0 || of.aftercareAt !== null) return [];
    const due = await this.line.store.dueBefore(this.clock.now() + aheadMs, rowsAtMost);
    const over = due.find(({ caseId, what }) => caseId === of.id && what.kind === 'timer' && what.name === 'over');
    return over ? [{ what: 'watch', from, until: over.dueAt }] : [];
  }
}

/** Until the slides may leave the alcohol, or the spray is dry; shown until the patient was let go. */
function fixingTimers(specimens: readonly Specimen[], { options }: Line): readonly TableTimer[] {
  const { programme } = options.content;
  return specimens.flatMap(({ fixedAt: from, fixative, postedAt }): readonly TableTimer[] => {
    if (from === null || postedAt !== null) return [];
    if (fixative === 'alcohol')
      return [{ what: 'alcohol', from, until: from + durationOf(programme, 'alcohol-minimum') }];
    return fixative === 'spray' ? [{ what: 'spray', from, until: from + durationOf(programme, 'spray-dry') }] : [];
  });
}
