import { timingSafeEqual } from 'node:crypto';
import { alikeCases } from '../case/same-patient.ts';
import type { Due, LineEvent } from '../conversation/event.ts';
import { firstAidKey } from '../conversation/first-aid-key.ts';
import type { FlowSet } from '../conversation/flow.ts';
import { joinLinkIn } from '../conversation/join-link.ts';
import { wordsOf } from '../conversation/parts.ts';
import { tagAnywhere } from '../conversation/question-tag.ts';
import { type ConversationState, freshState, type Question } from '../conversation/state.ts';
import { flowTraits, type Traits, traitsOf } from '../conversation/traits.ts';
import { type CaseBrief, type Invitation, type Lost, nothingLost, type Person } from '../conversation/world.ts';
import type { Loaded } from '../line/ports.ts';
import { briefOf } from './cases.ts';
import { codeCandidates } from './code-finder.ts';
import { conversationBound } from './commit.ts';
import type { Context } from './context.ts';
import { personKeyId } from './data-keys.ts';
import { doingsOf } from './doings.ts';
import { addressHash, eventKeyHash } from './keys.ts';
import { openCases } from './open-cases.ts';
import { openOnce } from './opened.ts';
import { overviewOf } from './overview.ts';
import { casesAfter } from './patients.ts';
import { invitationFor, personOf } from './people.ts';
import { questionOf } from './questions.ts';
import { quotedTokenOf } from './quoted.ts';
import type { PersonRow, QuestionRow } from './rows.ts';
import { ifOpens } from './shut.ts';
import { all, one, type Steps } from './statement.ts';
import { stocksOf } from './stocks.ts';

/** Cases of a person's threads that are loaded along, current thread first. */
const mostThreadCases = 20;

const nothing: Omit<Loaded, 'duplicate'> = {
  person: null,
  conversation: null,
  cases: [],
  briefs: [],
  questions: [],
  tagsInUse: [],
  invitation: null,
  handedAt: {},
  reportedAt: {},
  quotedToken: null,
  strangersToday: 0,
  firstAidGiven: false,
  doings: [],
  overview: null,
  stocks: [],
  lost: nothingLost,
};

/** What the store knows about the sender and the matter of one event. */
export function* loadSteps(context: Context, event: LineEvent, flows: FlowSet): Steps<Loaded> {
  const { hot, ring } = context;
  const programme_id = event.programmeId;
  for (const key of event.keys) {
    if (yield* one(hot.seen, { key: eventKeyHash(ring, programme_id, key) })) return { ...nothing, duplicate: true };
  }
  const sender = yield* senderRow(context, event);
  const linked = sender ? null : yield* linkedPerson(context, event);
  const row = sender ?? linked?.row;
  const person = row ? personOf(context, row) : null;
  const conversation = row && person ? conversationOf(context, row) : null;
  const shut = conversation?.shut === true;
  const doings = yield* doingsFor(context, event);
  const doneIn = doings.map((one) => one.caseId);
  const cases = yield* casesFor(context, event, conversation?.state ?? null, doneIn);
  const { before, after } = relatedTo(event, conversation?.state ?? null, cases, flows);
  // What a doctor was asked about the earlier sample ends with the new examination, whoever made it.
  const { questions, tagsInUse, inAlarm } = yield* questionsFor(context, event, person, conversation?.state ?? null, [
    ...cases.map((found) => found.value.id),
    ...before,
  ]);
  // An answer is recorded in its question's case, which the person's own threads may not name.
  const asked = questions.map((question) => question.caseId).filter((id) => id !== null);
  const missing = [...new Set([...asked, ...before])].filter((id) => !cases.some((found) => found.value.id === id));
  const named = missing.length === 0 ? [] : yield* casesNamed(context, missing);
  const later = (yield* casesAfter(context, after)).filter(
    (one) => ![...cases, ...named].some((found) => found.value.id === one.value.id),
  );
  return {
    duplicate: false,
    person,
    conversation: conversation && { state: conversation.state, version: conversation.version },
    cases: [...cases, ...named, ...later],
    briefs: person
      ? (yield* briefsFor(context, person)).map((one) =>
          inAlarm.has(one.id) ? { ...one, inAlarm: true as const } : one,
        )
      : [],
    questions,
    tagsInUse,
    lost: yield* lostOf(context, event, conversation?.state ?? null, cases, questions, shut),
    invitation: linked?.invitation ?? (person ? yield* invitationFor(context, person.id) : null),
    ...(conversation ? yield* handedFor(context, conversation.state) : { handedAt: {}, reportedAt: {} }),
    quotedToken: yield* quotedTokenOf(context, event, person?.id ?? null),
    doings,
    overview: yield* overviewFor(context, event),
    stocks: yield* stocksFor(context, event),
    firstAidGiven: person?.state === 'joined' || event.kind === 'due' ? false : yield* helpedToday(context, event),
    strangersToday: person || event.kind === 'due' ? 0 : yield* strangersOn(context, programme_id, event.at),
  };
}

function* senderRow(context: Context, event: LineEvent): Steps<PersonRow | undefined> {
  if (event.kind === 'due') {
    const id = event.due.personId;
    return id === null ? undefined : yield* one(context.hot.personById, { id });
  }
  const hash = addressHash(context.ring, event.programmeId, event.from);
  return yield* one(context.hot.personByAddress, { programme_id: event.programmeId, hash });
}

/** The person whom the link in this text invites; null unless its secret is right and the newest. */
function* linkedPerson(context: Context, event: LineEvent): Steps<{ row: PersonRow; invitation: Invitation } | null> {
  const link = event.kind === 'text' ? joinLinkIn(event.from, event.text) : null;
  if (!link) return null;
  const found = yield* one(context.hot.invitationById, { programme_id: event.programmeId, id: link.invitationId });
  if (!found) return null;
  const row = yield* one(context.hot.personById, { id: found.person_id });
  const known = row ? personOf(context, row) : null;
  const invitation = known ? yield* invitationFor(context, known.id, 'link') : null;
  if (!row || invitation?.id !== link.invitationId || !isSame(invitation.number, link.secret)) return null;
  return { row, invitation };
}

function isSame(one: string, other: string): boolean {
  const [left, right] = [Buffer.from(one), Buffer.from(other)];
  return left.length === right.length && timingSafeEqual(left, right);
}

/** Where the person stands; one that does not open begins anew in its place. */
function conversationOf(
  context: Context,
  row: PersonRow,
): (Loaded['conversation'] & { readonly shut: boolean }) | null {
  const { conversation_version: version, conversation_sealed: sealed } = row;
  if (version === null || sealed === null) return null;
  const { states } = context.memory;
  const key = context.keys.unwrap(personKeyId(row.id), row);
  if (!key) {
    states.forget(row.id);
    return null;
  }
  const state = ifOpens(() => openOnce(states, row.id, key, sealed, conversationBound(row.id, version)));
  return { state: state ?? freshState, version, shut: state === null };
}

/** The event's own case first, then codes of its text, then the threads from the current one down. */
function* casesFor(
  context: Context,
  event: LineEvent,
  state: ConversationState | null,
  doneIn: readonly string[],
): Steps<Loaded['cases']> {
  const found: { value: Loaded['cases'][number]['value']; version: number }[] = [];
  const codes = event.kind === 'due' || event.kind === 'tap' ? [] : codeCandidates(wordsOf(event, state));
  if (codes.length > 0) {
    const rows = yield* all(context.hot.casesByCode, {
      programme_id: event.programmeId,
      codes: JSON.stringify(codes),
    });
    found.push(...(yield* openCases(context, rows)));
  }
  const named = [...namedIn(event, state), ...doneIn];
  const wanted = [...new Set(named)].filter((id) => !found.some((one) => one.value.id === id));
  return wanted.length === 0 ? found : [...found, ...(yield* casesNamed(context, wanted))];
}

/** Ids of the cases that the event is about and that the conversation points to, the current thread first. */
function namedIn(event: LineEvent, state: ConversationState | null): readonly string[] {
  const threads = (state?.threads ?? []).slice(-mostThreadCases).reverse();
  const ids = [
    ...(event.kind === 'due' ? caseIdsOf(event.due) : []),
    ...threads.map((thread) => thread.caseId),
    // What WRONG would be about.
    state?.lastCaseId,
    state?.lastAnswered?.caseId,
    // What MORE goes on with.
    state?.more?.caseId,
  ];
  return ids.filter((id) => id !== null && id !== undefined);
}

/** What is named and was not found. */
function* lostOf(
  context: Context,
  event: LineEvent,
  state: ConversationState | null,
  cases: Loaded['cases'],
  questions: readonly Question[],
  conversation: boolean,
): Steps<Lost> {
  const known = new Set(cases.map((one) => one.value.id));
  const ids = [...new Set(namedIn(event, state))].filter((id) => !known.has(id));
  const asked = [...(state?.shownQuestions ?? []), state?.lastQuestionId, state?.lastAnswered?.id];
  const there = new Set(questions.map((one) => one.id));
  const gone = asked.filter((id) => typeof id === 'string' && !there.has(id)) as string[];
  if (ids.length === 0 && gone.length === 0 && !conversation) return nothingLost;
  const rows = ids.length === 0 ? [] : yield* all(context.hot.casesById, { ids: JSON.stringify(ids) });
  const erased = new Set(rows.filter((row) => row.destroyed_at !== null).map((row) => row.id));
  return {
    cases: ids.map((id) => ({ id, why: erased.has(id) ? 'erased' : 'damaged' })),
    questions: [...new Set(gone)],
    conversation,
  };
}

/**
 * Ids of earlier cases of a patient who is being examined, and of cases on whose day it matters whether the patient was
 * seen since.
 */
function relatedTo(
  event: LineEvent,
  state: ConversationState | null,
  cases: Loaded['cases'],
  flows: FlowSet,
): { readonly before: readonly string[]; readonly after: readonly string[] } {
  const examined = cases.filter(({ value }) => value.status === 'findings');
  const what = event.kind === 'due' ? event.due.what : null;
  const due =
    what?.kind === 'look-again' || (what?.kind === 'run' && loadsLater(flowTraits(flows, what.flow)))
      ? [what.caseId]
      : [];
  const days = (state?.threads ?? []).filter(({ frames }) =>
    frames.some((frame) => loadsLater(traitsOf(flows, frame))),
  );
  return {
    before: examined
      .flatMap(({ value }) => [value.earlierCaseId, alikeCases(value)[0]?.caseId ?? null])
      .filter((id) => id !== null),
    after: [...due, ...days.map((one) => one.caseId)].filter((id) => id !== null),
  };
}

function loadsLater({ loads }: Pick<Traits, 'loads'>): boolean {
  return loads === 'later-cases';
}

/** The cases with these ids, in this order; those that do not open, erased ones too, are left out. */
function* casesNamed(context: Context, ids: readonly string[]): Steps<Loaded['cases']> {
  const rows = yield* all(context.hot.casesById, { ids: JSON.stringify(ids) });
  const opened = [...(yield* openCases(context, rows))];
  return opened.sort((a, b) => ids.indexOf(a.value.id) - ids.indexOf(b.value.id));
}

function* overviewFor(context: Context, event: LineEvent): Steps<Loaded['overview']> {
  if (event.kind !== 'due' || event.due.what.kind !== 'overview') return null;
  const { until, since } = event.due.what;
  return yield* overviewOf(context, event.programmeId, event.at, until, since);
}

function* stocksFor(context: Context, event: LineEvent): Steps<Loaded['stocks']> {
  if (event.kind !== 'due' || (event.due.what.kind !== 'stock' && event.due.what.kind !== 'overview')) return [];
  return yield* stocksOf(context, event.programmeId);
}

/** Read for the event that takes a phone off the line, and for no other. */
function* doingsFor(context: Context, event: LineEvent): Steps<Loaded['doings']> {
  const what = event.kind === 'due' ? event.due.what : null;
  if (what?.kind !== 'standing' || what.since === null || event.kind !== 'due' || event.due.personId === null)
    return [];
  return yield* doingsOf(context, event.due.personId, what.since);
}

function caseIdsOf(due: Due): (string | null)[] {
  return [due.caseId, 'caseId' in due.what ? due.what.caseId : null];
}

/** So long no other question gets the tag of one, ms. */
const tagRestsMs = 24 * 3_600_000;

type OpenRow = Pick<QuestionRow, 'id' | 'case_id' | 'tag' | 'asked_by' | 'now'> & {
  readonly askedOf: readonly string[];
};

interface OpenNow {
  readonly open: readonly OpenRow[];
  readonly tagsInUse: readonly string[];
  /** Cases whose alarm is open. */
  readonly inAlarm: ReadonlySet<string | null>;
}

/** What is asked in the whole programme: the same for all that is loaded together. */
function* openNow(context: Context, { programmeId, at }: LineEvent): Steps<OpenNow> {
  const key = `questions:${programmeId}`;
  const known = context.shared?.get(key) as OpenNow | undefined;
  if (known) return known;
  const rows = yield* all(context.hot.openQuestions, { programme_id: programmeId });
  // Those of the last day too, answered or not: a late answer to one must not meet another patient's question.
  const lately = yield* all(context.hot.tagsSince, { programme_id: programmeId, since: at - tagRestsMs });
  const now: OpenNow = {
    open: rows.map(({ asked_of, ...row }) => ({ ...row, askedOf: JSON.parse(asked_of) as string[] })),
    tagsInUse: [...new Set([...rows, ...lately].map((row) => row.tag))],
    inAlarm: new Set(rows.filter((row) => row.now === 1).map((row) => row.case_id)),
  };
  context.shared?.set(key, now);
  return now;
}

function* questionsFor(
  context: Context,
  event: LineEvent,
  person: Person | null,
  state: ConversationState | null,
  caseIds: readonly string[],
): Steps<{ questions: readonly Question[]; tagsInUse: readonly string[]; inAlarm: ReadonlySet<string | null> }> {
  const { open, tagsInUse, inAlarm } = yield* openNow(context, event);
  const said = event.kind === 'due' || event.kind === 'tap' ? '' : wordsOf(event, state);
  const tag = person?.roles.includes('doctor') ? tagAnywhere(said.slice(0, 40)) : null;
  const named = event.kind === 'due' && 'questionId' in event.due.what ? event.due.what.questionId : null;
  const ids = open
    .filter((row) => {
      if (row.case_id !== null && caseIds.includes(row.case_id)) return true;
      if (row.tag === tag) return true;
      // A photo goes with what its sender has asked already.
      if (event.kind === 'unreadable' && event.picture && row.asked_by === person?.id) return true;
      return person !== null && row.askedOf.includes(person.id);
    })
    .map((row) => row.id);
  // Answered ones too: what a doctor was shown lately, and what a frame waits for.
  const frames = (state?.threads ?? []).flatMap((thread) => thread.frames);
  const waited = frames.map((frame) => frame.vars.question).filter((id) => typeof id === 'string');
  const told = [state?.lastQuestionId, state?.lastAnswered?.id].filter((id) => typeof id === 'string');
  for (const id of [...(named === null ? [] : [named]), ...(state?.shownQuestions ?? []), ...told, ...waited]) {
    if (!ids.includes(id)) ids.push(id);
  }
  if (ids.length === 0) return { questions: [], tagsInUse, inAlarm };
  const rows = yield* all(context.hot.questionsById, { ids: JSON.stringify(ids) });
  const questions = rows.map((row) => questionOf(context, row)).filter((one) => one !== null);
  return { questions, tagsInUse, inAlarm };
}

/** Workers see their site, doctors and coordinators what waits in the programme; others find cases by code. */
function* briefsFor(context: Context, person: Person): Steps<readonly CaseBrief[]> {
  const programme_id = person.programmeId;
  const { roles } = person;
  const site = roles.includes('worker')
    ? yield* all(context.hot.siteBriefs, { programme_id, site_id: person.siteId })
    : [];
  const waiting =
    roles.includes('doctor') || roles.includes('coordinator')
      ? yield* all(context.hot.waitingBriefs, { programme_id })
      : [];
  if (roles.every((one) => one === 'lab')) {
    const rows = yield* all(context.hot.labBriefs, { programme_id });
    return rows.map((row) => briefOf(context, row)).filter((brief) => brief !== null);
  }
  const others = site.length === 0 ? waiting : waiting.filter((row) => row.site_id !== person.siteId);
  return [...site, ...others].map((row) => briefOf(context, row)).filter((brief) => brief !== null);
}

function* handedFor(context: Context, state: ConversationState): Steps<Pick<Loaded, 'handedAt' | 'reportedAt'>> {
  const ids = state.threads.flatMap((thread) =>
    thread.ask ? [thread.ask.first?.messageId ?? thread.ask.messageId] : [],
  );
  if (ids.length === 0) return { handedAt: {}, reportedAt: {} };
  const rows = yield* all(context.hot.handed, { ids: JSON.stringify(ids) });
  return {
    handedAt: Object.fromEntries(rows.map((row) => [row.id, row.handed_at])),
    reportedAt: Object.fromEntries(rows.map((row) => [row.id, row.reported_at])),
  };
}

function* helpedToday(context: Context, event: Exclude<LineEvent, { kind: 'due' }>): Steps<boolean> {
  const key = eventKeyHash(context.ring, event.programmeId, firstAidKey(event.from, event.at));
  return (yield* one(context.hot.seen, { key })) !== undefined;
}

function* strangersOn(context: Context, programme_id: string, at: number): Steps<number> {
  const day = new Date(at).toISOString().slice(0, 10);
  return (yield* one(context.hot.strangers, { programme_id, day }))?.answers ?? 0;
}
