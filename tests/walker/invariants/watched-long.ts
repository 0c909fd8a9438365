import type { Case } from '../../../src/case/case.ts';
import { siteOf } from '../../../src/conversation/programme.ts';
import { instantOf, localTime } from '../../../src/conversation/schedule.ts';
import type { Invariant } from './invariant.ts';
import { answersOf, withCase } from './invariant.ts';

const minuteMs = 60_000;
const longMinutes = 60;
/** Passes of the needle from which a watch is the longer one. */
const manyPasses = 4;

/** After blood, fluid, many passes or beside a thinner the neck is watched for an hour from the last slide or needle on. */
export const watchedLong: Invariant = {
  name: 'after blood, fluid, many passes or beside a thinner the watch is an hour',
  broken: (walked) =>
    withCase(walked).flatMap(({ entry, of }) => {
      if (entry.kind !== 'said' || of === null || entry.caseId !== of.id || of.practice) return [];
      const [, hour, minute] = /stays until (\d\d):(\d\d)/.exec(entry.text) ?? [];
      const why = reasonOf(of);
      if (hour === undefined || why === null) return [];
      const { zone } = siteOf(walked.programme, of.siteId);
      const told = instantOf(localTime(entry.at, zone), Number(hour) + Number(minute) / 60, zone);
      const until = told < since(of) ? told + 24 * 60 * minuteMs : told;
      const minutes = Math.round((until - since(of)) / minuteMs);
      return minutes >= longMinutes - 1 ? [] : [`${minutes} min after ${why}: "${entry.text}"`];
    }),
};

function reasonOf(of: Case): string | null {
  const attempts = of.specimens.flatMap((one) => one.attempts);
  if (attempts.includes('blood')) return 'blood';
  if (of.specimens.some(({ fluids }) => fluids.length > 0)) return 'fluid';
  if (attempts.length >= manyPasses) return `${attempts.length} passes`;
  const { bleeding } = answersOf(of);
  return Array.isArray(bleeding) && bleeding.some((one) => one !== 'unknown') ? String(bleeding) : null;
}

/** When the last slide went into its fixative, as it was said, else as it was reported; without slides, of the needle. */
function since(of: Case): number {
  const reported = Math.max(0, ...of.specimens.map((one) => one.fixedAt ?? one.takenAt ?? 0));
  const { 'fixed-time': said } = answersOf(of);
  return typeof said === 'number' ? Math.min(said, reported) : reported;
}
