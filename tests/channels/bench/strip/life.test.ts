import { readdirSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { Forecast } from '../../../../src/channels/bench/strip/forecast.ts';
import { stepIds } from '../../../../src/channels/bench/strip/strip.ts';
import { withRole } from '../../../../src/conversation/people.ts';
import { siteOf } from '../../../../src/conversation/programme.ts';
import type { Person } from '../../../../src/conversation/world.ts';
import { clockWords } from '../../../../src/text/time-words.ts';
import { soak } from '../../../support/runs.ts';
import { shipped } from '../../../support/shipped.ts';
import { type Came, type Look, playWatched } from './watched-play.ts';

const folder = new URL('../../../conversations/', import.meta.url).pathname;
const all = readdirSync(folder).flatMap((name) => (name.endsWith('.play') ? [name.slice(0, -5)] : []));

/** Plays in which every kind of what a strip says comes true; the longer runs look at every play. */
const few = ['silence-about-the-neck', 'lab-never-confirms', 'no-fixative-has-an-owner', 'parcel-is-lost'];
const scripts = soak ? all : few;

/** What has come true in all these plays: the kind of what was said, of a reminder also of what. */
const cameTrue = new Set<string>();

describe('the strip of a case, through whole lives of cases', () => {
  it.each(scripts)(
    'says at every moment of %s who holds it, until when and what then, and so it comes',
    async (name) => {
      const faults: string[] = [];
      const note = (ms: number, fault: string): void => void faults.push(`${new Date(ms).toISOString()} ${fault}`);
      await playWatched(
        `${folder}${name}.play`,
        (look) => {
          for (const fault of unsound(look)) note(look.now, fault);
        },
        (what) => {
          cameTrue.add(kindOf(what.before.forecast!));
          const fault = untrue(what);
          if (fault !== null) note(what.after.now, fault);
        },
      );
      expect(faults).toEqual([]);
    },
  );

  it('of everything that it can say, each has come true in one of them', () => {
    const kinds: readonly Forecast['kind'][] = ['climbs', 'neck', 'neck-alarm', 'writes', 'lapses'];
    const owed = ['supplies', 'receipt', 'referral', 'result'].map((one) => `reminds ${one}`);
    expect([...kinds, ...owed].filter((one) => !cameTrue.has(one))).toEqual([]);
  });
});

function kindOf(forecast: Forecast): string {
  return forecast.kind === 'reminds' ? `reminds ${forecast.duty.what}` : forecast.kind;
}

/** What is wrong with a strip by itself. */
function unsound({ strip, matter: { of } }: Look): readonly string[] {
  const faults: string[] = [];
  const now = strip.steps.filter((one) => one.state === 'now');
  const to = strip.steps.filter((one) => one.state === 'ahead');
  if (strip.steps.map((one) => one.id).join() !== stepIds.join()) faults.push('steps are missing');
  if (strip.closed) {
    if (now.length + to.length > 0) faults.push('closed, and something is to come');
    if (strip.holder !== null || strip.until !== null || strip.ifNobody !== '') faults.push('closed, and held');
    return faults;
  }
  if (now.length !== 1) faults.push(`${now.length} steps are now`);
  if (!strip.holder || strip.holder.name === '') faults.push('nobody holds it');
  if (strip.until === null) faults.push('held for ever');
  else if (!of.practice) {
    const { zone } = siteOf(shipped.programme, of.siteId);
    if (!strip.ifNobody.includes(clockWords(strip.until, zone))) faults.push(`no time in: ${strip.ifNobody}`);
  }
  if (strip.ifNobody === '' || /[{}]/.test(strip.ifNobody)) faults.push(`says: ${strip.ifNobody}`);
  return faults;
}

/** What did not come as the strip had said; null = all of it came. */
function untrue({ before, after, texts, numbers }: Came): string | null {
  const forecast = before.forecast!;
  const said = `${kindOf(forecast)}: ${before.strip.ifNobody}`;
  const heard = (people: readonly Person[]): boolean =>
    people.every(({ addresses }) =>
      texts.some((one) => addresses.some(({ address }) => address === numbers.get(one.phone))),
    );
  const { of, questions } = after.matter;
  const next = forecast.kind === 'climbs' ? forecast.next : null;
  // Of an alarm nobody is named: it goes to the doctors.
  const isAlarm = forecast.kind === 'neck-alarm';
  const named = forecast.kind === 'climbs' ? (next ? [next] : []) : isAlarm ? [] : forecast.who;
  if (!of.practice && !named.every(({ name }) => before.strip.ifNobody.includes(name))) return `not named: ${said}`;
  switch (forecast.kind) {
    case 'reminds': {
      const { what, rung, dueAt } = forecast.duty;
      if (of.practice) return of.reminders === null ? null : said;
      const { duty, rung: sent, at: when } = of.reminders ?? {};
      return duty === what && sent === rung + 1 && when === dueAt ? null : said;
    }
    case 'climbs': {
      const now = questions.find((one) => one.id === forecast.question.id);
      // What was promised was done, or what was to be asked about.
      if (!now) return forecast.held || forecast.question.askedOf.length === 0 ? null : said;
      const isNext = next === null || now.askedOf.includes(next.id);
      return now.rung > forecast.question.rung && isNext ? null : said;
    }
    case 'neck':
      return heard([...forecast.who, ...withRole(before.place, 'coordinator')]) ? null : said;
    case 'neck-alarm':
      return questions.some((one) => one.about === 'no-aftercare-answer') ? null : said;
    case 'lapses':
      return of.specimens.some((one) => one.lapsed !== null) ? null : said;
    case 'writes':
      return heard(forecast.who) ? null : said;
  }
}
