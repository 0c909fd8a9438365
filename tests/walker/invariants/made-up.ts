/** Transcripts made by hand, to see an invariant fail and hold. */
import { type Case, evolve, noCase } from '../../../src/case/case.ts';
import type { CaseEvent, Json } from '../../../src/case/events.ts';
import type { Person, Role } from '../../../src/conversation/world.ts';
import { chanceOf } from '../../simulation/chance.ts';
import { shipped } from '../../support/shipped.ts';
import type { Ask, Entry, Said, Sent, Walked } from '../transcript.ts';
import { type Truth, truthOf } from '../truth.ts';

const from = Date.UTC(2030, 2, 12, 7);
const minuteMs = 60_000;

/** Somebody of the roster, on the line unless another state is given. */
export const person = (role: Role, siteId: string, state: Person['state'] = 'joined'): Person => ({
  ...{ id: role.charAt(0), programmeId: 'tamboro', name: role, roles: [role], siteId, locale: 'en', rank: 0 },
  ...{ addresses: [{ channel: 'sms', address: role }], state, practised: true, shared: false },
});

/** One of each role: `w`, `d`, `l` and `c`. */
export const everybody: readonly Person[] = [
  person('worker', 'oruma'),
  person('doctor', 'oruma'),
  person('lab', shipped.programme.sites.find(({ id }) => id === 'oruma')!.labId),
  person('coordinator', 'oruma'),
];

type Line = CaseEvent | Partial<Said> | Partial<Sent>;

/** One line a minute; a number among them lets so many hours pass. */
export function madeUp(lines: readonly (Line | number)[], more: Partial<Walked> = {}): Walked {
  let of: Case = noCase('case', 'tamboro');
  let at = from;
  const entries: Entry[] = [];
  for (const line of lines) {
    at += typeof line === 'number' ? line * 60 * minuteMs : minuteMs;
    if (typeof line === 'number') continue;
    if ('type' in line) {
      const record = {
        caseId: 'case',
        sequence: of.sequence + 1,
        at,
        by: 'w',
        eventId: `e${at}`,
        flow: '-',
        event: line,
      };
      of = evolve(of, record);
      entries.push({ kind: 'recorded', at, caseId: 'case', record, after: of, by: 'w' });
    } else entries.push(line.kind === 'sent' ? sent(line, at) : said(line as Partial<Said>, at));
  }
  return {
    ...{ seed: 1, number: 1, truth: truth({}), of, entries, guidance: true, endedAt: at, programme: shipped.programme },
    untrue: [],
    roster: everybody,
    ...more,
  };
}

function said(line: Partial<Said>, at: number): Said {
  const empty = { kind: 'said', at, to: 'w', role: 'worker', text: '', segments: 1, flow: '-', step: '-' } as const;
  return { ...empty, caseId: 'case', code: null, ask: null, ...line };
}

function sent(line: Partial<Sent>, at: number): Sent {
  const empty = {
    kind: 'sent',
    at,
    by: 'w',
    role: 'worker',
    text: '',
    ask: null,
    askStep: '',
    caseId: 'case',
  } as const;
  return { ...empty, ids: [], slip: 'none', ...line };
}

/** A question of this field. */
export function asks(field: string, ids: readonly string[] = [], item: string | null = null): Ask {
  const options = ids.map((id, index) => ({ id, reply: String(index + 1), label: id }));
  return { field, item, kind: 'choice', options, token: field };
}

/** A patient like any other, but for what is said. */
export function truth(of: Partial<Truth>): Truth {
  return { ...truthOf(chanceOf(3), 2030), mistaken: null, ...of };
}

export const opened: CaseEvent = { type: 'opened', tag: 'AK', siteId: 'oruma', ownerId: 'w', practice: false };

export const answer = (field: string, value: Json, item: string | null = null): CaseEvent => ({
  ...{ type: 'answered', field, item, value },
});

/** A decision as it is recorded, with what the invariants read of it. */
export const decided = (decision: string, because: readonly string[] = []): CaseEvent => ({
  ...{ type: 'decided', decision, policy: 'common-practice', proposed: [] },
  assessment: { decision, because: [...because] },
});

/** A lump on the left of 22x15x14 mm, with its code, whatever a specimen is recorded with. */
export const codeIssued = (whole = true): CaseEvent =>
  ({
    ...{ type: 'code-issued', specimen: 's1', code: '48291354', technique: 'capillary', slides: 4, nodule: 'n1' },
    target: { kind: 'nodule', nodule: 'n1', side: whole ? 'left' : null, mm: whole ? [22, 15, 14] : [], place: null },
  }) as CaseEvent;

/** A neck node of the left of 22x15 mm, with its code. */
export const nodeCodeIssued: CaseEvent = {
  ...{ type: 'code-issued', specimen: 's1', code: '48291354', technique: 'holder', slides: 4 },
  target: { kind: 'node', side: 'left', mm: [22, 15], level: null },
};

export const leftLump: readonly CaseEvent[] = [
  answer('nodules', ['n1']),
  answer('site', 'left', 'n1'),
  answer('mm', [22, 15, 14], 'n1'),
];

/** A result of the specimen as a laboratory confirmed it. */
export const filed = (canonical: string): CaseEvent =>
  ({
    ...{ type: 'result-filed', specimen: 's1', amends: null, reason: null },
    result: { system: 'Thy', said: canonical, code: canonical, canonical, words: '' },
  }) satisfies CaseEvent;
