import type { Json } from '../case/events.ts';
import type { FlowName } from '../generated/flow-names.ts';
import type { StateName } from '../generated/state-names.ts';
import type { AskKind } from './answers/answer.ts';
import type { TakenAnswer } from './double.ts';
import type { QuestionAbout } from './flow.ts';
import type { VoiceKept } from './voice.ts';
import type { Address } from './world.ts';

/** One flow being walked. */
export interface Frame {
  readonly id: string;
  readonly flow: FlowName | '-';
  /** Hash of the structure it began on; it finishes on the same. */
  readonly hash: string;
  readonly state: StateName | '-';
  /** Counts visits: a timer or button of an earlier visit changes nothing. */
  readonly entry: number;
  /** When the state was entered, ms. */
  readonly since: number;
  readonly item: string | null;
  /** Small working values of the flow; nothing that identifies a patient. */
  readonly vars: Readonly<Record<string, Json>>;
  /** Asking states passed, for the way back. */
  readonly trail: readonly { readonly state: StateName; readonly item: string | null }[];
  /** Where the frame below goes on when this one ends; null = it stays and repeats its question. */
  readonly returnTo: StateName | null;
}

/** A question as it was shown. Answers are read against it, with its digits as sent. */
export interface OpenAsk {
  readonly frameId: string;
  readonly entry: number;
  readonly field: string;
  readonly item: string | null;
  readonly kind: AskKind;
  readonly options: readonly { readonly reply: string; readonly id: string }[];
  readonly askedAt: number;
  /** Outbound message that carried it. */
  readonly messageId: string;
  /** The first showing, when the same question was repeated since: an answer to it is an answer. */
  readonly first?: { readonly askedAt: number; readonly messageId: string };
  /** Repeated because an answer came long after it: the next answer counts, however slow the person is. */
  readonly again?: true;
  /** Of a structure that is not served any more: it answers nothing, and is asked anew. */
  readonly moved?: true;
}

/** One matter of one person: a case, or a piece of housekeeping. Last in the list = current. */
export interface Thread {
  readonly id: string;
  readonly caseId: string | null;
  /** Bottom first. */
  readonly frames: readonly Frame[];
  readonly ask: OpenAsk | null;
}

/** What is there of a long text: the words of each part by its number. Given up: nobody waits for the rest, the words are empty. */
export interface PartSet {
  readonly reference: string;
  readonly total: number;
  readonly since: number;
  /** The earliest of its parts. */
  readonly networkAt: number | null;
  readonly texts: Readonly<Record<string, string>>;
  readonly givenUp?: true;
}

/** Where one person's conversation stands. A snapshot; it does not grow with the number of questions answered. */
export interface ConversationState {
  readonly schema: 1;
  readonly threads: readonly Thread[];
  /** State visits so far, all threads. */
  readonly entries: number;
  /** Unreadable replies in a row. */
  readonly misses: number;
  /** Last text from this person. */
  readonly lastInAt: number;
  /** The question before the open one: an answer from before the open one was handed over belongs to it. */
  readonly previousAskAt: number | null;
  /** Doctor: the latest question shown, for a bare digit. */
  readonly lastQuestionId: string | null;
  /** Doctor: when that question was first shown, ms; absent in what was stored before this was kept. */
  readonly lastQuestionAt?: number;
  /** Doctor: questions shown lately, newest last, so that a late answer is known as one. */
  readonly shownQuestions: readonly string[];
  /** Doctor: texts about questions of the ladder lately, oldest first; absent in what was stored before this was kept. */
  readonly toldQuestions?: readonly { readonly id: string; readonly at: number }[];
  /** When the coordinators last read that this person is stuck, ms; absent = never. */
  readonly stuckToldAt?: number;
  /** Remaining pages of a long answer: key and page, rendered again on MORE. */
  readonly more: { readonly key: string; readonly page: number; readonly caseId: string | null } | null;
  /** Coordinator, doctor: the cases of the LIST sent last by their numbers, and when it was sent. */
  readonly listed?: { readonly at: number; readonly ids: readonly string[] };
  /** Doctor: the answer given last, for WRONG. */
  readonly lastAnswered: Question | null;
  /** Case of the last text to this person, for WRONG. */
  readonly lastCaseId: string | null;
  /** Where the person wrote from last, kept for those with several addresses: texts go there. */
  readonly heardFrom?: Address;
  /** Texts heard on this day; absent before the first one was counted. */
  readonly heard?: { readonly day: string; readonly count: number };
  /** Wrong tags and secrets lately, and of them the secrets (absent = none): instants, at most a dozen of each. */
  readonly wrongAt: readonly number[];
  readonly wrongSecretsAt?: readonly number[];
  /** STOP was asked back: the digits that confirm it, and since when they hold, ms. */
  readonly leaving?: { readonly digits: string; readonly askedAt: number };
  /** Long texts of which some parts are there; absent when none is. */
  readonly parts?: readonly PartSet[];
  /** A patient of this phone is at hand, or has just gone home, until this instant, ms: plain words of danger are heard. */
  readonly patientUntil?: number;
  /** The last texts to this person as numbers, to know a copy that a machine sends back. */
  readonly saidMarks?: readonly number[];
  /** The unreadable text that came last as a number, and how many copies of it or of our own texts came in a row. */
  readonly copies?: { readonly mark: number; readonly count: number };
  /** Coordinator: alarms of numbers that are not on the line. `told`: when of the last; `waiting`: numbers since, oldest first. */
  readonly unknownAlarms?: { readonly toldAt: number; readonly waiting: readonly string[] };
  /** Codes that were refused lately: instants; absent in what was stored before this was kept. */
  readonly wrongCodesAt?: readonly number[];
  /** The answer that was taken last, to know its double by. */
  readonly taken?: TakenAnswer;
  /** Away from the line: answers that nobody was there to hear, oldest first; absent when there is none. */
  readonly kept?: readonly KeptAnswer[];
  /** Was told that the line runs as a trial. */
  readonly toldTrial?: true;
  /** The voice of this person's texts and what is counted for it; absent = plain. */
  readonly voice?: VoiceKept;
}

/** A doctor's answer that came while nobody of the clinic was on the line. */
export interface KeptAnswer {
  readonly questionId: string;
  readonly caseId: string | null;
  readonly answer: string;
  readonly words: string;
  readonly by: string;
}

/** A photo and the words under it. It can be shown by the network that it came by, and by no other. */
export interface QuestionPicture {
  readonly channel: string;
  readonly file: string;
  readonly words: string;
  /** The same for all that were sent together: the words may stand under one of them alone. */
  readonly album?: string;
}

/** A question to the doctors' ladder. First answer wins. */
export interface Question {
  readonly id: string;
  readonly programmeId: string;
  readonly caseId: string | null;
  /** Two random digits, unique among open questions. */
  readonly tag: string;
  /** Which text and which choices: a key of `locales/<tag>/doctor.json`. */
  readonly about: QuestionAbout;
  readonly item: string | null;
  readonly urgency: string;
  /** `care`: only adds care, so a bare digit is enough; the others need the tag. */
  readonly options: readonly { readonly reply: string; readonly id: string; readonly care: boolean }[];
  readonly words: string;
  readonly askedBy: string;
  readonly openedAt: number;
  readonly rung: number;
  readonly askedOf: readonly string[];
  readonly answeredAt: number | null;
  readonly answeredBy: string | null;
  readonly answer: string | null;
  /** Somebody has it in hand but the thing itself is not done: the ladder starts again at this instant. */
  readonly promiseUntil: number | null;
  /** Photos that the asker sent with it, in order. */
  readonly pictures?: readonly QuestionPicture[];
  /** The question that this one stands for, its answer taken back: whoever waited for that one waits for this. */
  readonly instead?: string;
}

/** A person who never wrote. */
export const freshState: ConversationState = {
  schema: 1,
  threads: [],
  entries: 0,
  misses: 0,
  lastInAt: 0,
  previousAskAt: null,
  lastQuestionId: null,
  shownQuestions: [],
  lastAnswered: null,
  lastCaseId: null,
  more: null,
  wrongAt: [],
};

/** Stands for texts that belong to no flow. */
export const idleFrame: Frame = {
  id: '-',
  flow: '-',
  hash: '-',
  state: '-',
  entry: 0,
  since: 0,
  item: null,
  vars: {},
  trail: [],
  returnTo: null,
};
