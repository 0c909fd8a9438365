/** What the page shows of a scenario. */

import { noduleSvg } from '../../../drawings/nodule.ts';
import type { Words } from '../../../text/say-word.ts';
import { clockWords, dayWordsAt } from '../../../text/time-words.ts';
import type { Report } from '../../../training/report.ts';
import type { LogEntry } from '../../../training/run.ts';
import type { Part, Training } from '../../../training/scenario.ts';
import type { Cast } from './cast.ts';
import type { Rehearsal } from './rehearsal.ts';

export interface ListedScenario {
  readonly id: string;
  readonly title: string;
  readonly about: string;
  /** Which part the learner plays. */
  readonly part: Part;
  readonly guided: boolean;
  /** Steps of the learner at most. */
  readonly steps: number;
}

/** `when`: day and time at the clinic. */
export type ShownEntry = LogEntry & { readonly when: string };

export interface ScenarioState {
  readonly id: string;
  readonly title: string;
  readonly about: string;
  /** Address of the learner's phone. */
  readonly you: string;
  readonly part: Part;
  readonly guided: boolean;
  /** The others answer by themselves. */
  readonly auto: boolean;
  readonly card: {
    readonly title: string;
    readonly lines: readonly string[];
    /** The lump as SVG; null = there is no ultrasound. */
    readonly picture: string | null;
    readonly table: readonly string[];
  };
  /** What is seen now; empty = what the card says. */
  readonly scene: string;
  /** What is to be sent next, and from whose phone; null = nothing is asked. */
  readonly next: {
    readonly address: string;
    readonly name: string;
    readonly send: string;
    readonly why: string;
  } | null;
  /** The line asks the learner what the way of this case does not foresee. */
  readonly away: boolean;
  /** Who answers by themselves next, and when (ms); null = nobody. */
  readonly waits: { readonly name: string; readonly at: number; readonly when: string } | null;
  readonly done: number;
  readonly of: number;
  readonly log: readonly ShownEntry[];
  readonly report: (Omit<Report, 'lines'> & { readonly lines: readonly ShownEntry[] }) | null;
}

/** The list, in the order of the files; the names are those of this roster. */
export function listOf({ scenarios }: Training, castFor: (you: Part) => Cast): readonly ListedScenario[] {
  return scenarios.map(({ id, title, about, you, guided, steps }) => {
    const { names } = castFor(you);
    const own = steps.filter(({ part }) => part === you).length;
    return { id, title: named(title, names), about: named(about, names), part: you, guided, steps: own };
  });
}

export interface ShownWith {
  readonly training: Training;
  /** Of the drawing. */
  readonly words: Words;
  /** Short names, January first. */
  readonly months: readonly string[];
  readonly auto: boolean;
  readonly now: number;
}

/** The scenario as it stands now, ms. */
export function stateOf(rehearsal: Rehearsal, { training, words, months, auto, now }: ShownWith): ScenarioState {
  const { patients } = training;
  const { scenario, cast, progress, report } = rehearsal;
  const say = (text: string): string => named(text, cast.names);
  const when = (at: number): string => `${dayWordsAt(at, cast.zone, months)} ${clockWords(at, cast.zone)}`;
  const saidLog = (log: readonly LogEntry[]): readonly ShownEntry[] =>
    log.map((one) => ({ ...one, comment: say(one.comment), when: when(one.at) }));
  const others = rehearsal.others(now);
  const next = rehearsal.nextOf(now) ?? (auto ? null : (others[0] ?? null));
  const waits = auto ? others[0] : undefined;
  const { initials, born, sex } = scenario.patient;
  return {
    id: scenario.id,
    title: say(scenario.title),
    about: say(scenario.about),
    you: cast.players[scenario.you]!.address,
    part: scenario.you,
    guided: scenario.guided,
    auto,
    card: {
      title: named(patients[sex], { initials, born: String(born) }),
      lines: scenario.card.map(say),
      picture: scenario.looks && noduleSvg(scenario.looks, words),
      table: scenario.table.map(say),
    },
    scene: say(rehearsal.scene),
    next: next && { address: next.player.address, name: next.player.name, send: next.text, why: say(next.why) },
    away: next === null && rehearsal.openStep() !== null,
    waits: waits ? { name: waits.player.name, at: waits.at, when: when(waits.at) } : null,
    ...progress,
    log: saidLog(rehearsal.log),
    report: report && { ...report, lines: saidLog(report.lines) },
  };
}

function named(text: string, names: Readonly<Record<string, string>>): string {
  return text.replace(/\{(\w+)\}/g, (all, name: string) => names[name] ?? all);
}
