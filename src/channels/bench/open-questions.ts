/** Every question that somebody's phone shows and that is open, whoever asks it, also after a restart of the line. */
import { doctorToken } from '../../conversation/ask-token.ts';
import type { Content } from '../../conversation/content.ts';
import type { OpenAsk, Question, Thread } from '../../conversation/state.ts';
import { type Traits, traitsOf } from '../../conversation/traits.ts';
import type { Person } from '../../conversation/world.ts';
import type { Loaded, StoredMessage } from '../../line/ports.ts';
import { foldWord } from '../../text/fold.ts';
import { optionWords } from '../../text/option-words.ts';

/** One answer: what is sent for it, and what the text itself says of it. */
export interface Choice {
  readonly reply: string;
  readonly label: string;
}

export interface OpenQuestion {
  readonly caseId: string | null;
  /** Of the patient; '' where it is about none. */
  readonly tag: string;
  /** What is asked, in a few words of the text. */
  readonly title: string;
  /** Several may be given in one reply. */
  readonly several: boolean;
  /** None where it is answered in words of one's own. */
  readonly choices: readonly Choice[];
}

/** The same with what tells one question from another, however often it is shown. */
export interface KnownQuestion extends OpenQuestion {
  readonly key: string;
  /** Silence about it becomes an alarm within a watch. */
  readonly pressing: boolean;
}

/** The texts on one phone, oldest first: what has not arrived is no question there. */
type Texts = readonly StoredMessage[];

/** The open questions of a person, the one that was asked last first. */
export function openQuestionsOf(
  content: Content,
  person: Person,
  loaded: Pick<Loaded, 'conversation' | 'questions' | 'cases'>,
  texts: Texts,
): readonly KnownQuestion[] {
  const tags = new Map(loaded.cases.map(({ value }) => [value.id, value.tag]));
  const shown = texts.filter((one) => one.said?.ask);
  const threads = loaded.conversation?.state.threads ?? [];
  const asking = threads.filter((one) => one.ask !== null && one.ask.moved !== true);
  const own = asking.flatMap((thread) => ownQuestion(content, person, thread, asking, tags, shown));
  const asked = loaded.questions
    .filter((one) => one.answeredAt === null && one.askedOf.includes(person.id))
    .flatMap((one) => doctorsQuestion(content, person, one, tags, shown));
  return [...own, ...asked].sort((a, b) => b.place - a.place).map(({ place: _place, ...one }) => one);
}

type Placed = KnownQuestion & { readonly place: number };

/** A question of the person's own conversation. */
function ownQuestion(
  content: Content,
  { locale }: Person,
  thread: Thread,
  asking: readonly Thread[],
  tags: ReadonlyMap<string, string>,
  shown: Texts,
): readonly Placed[] {
  const ask = thread.ask!;
  const frame = thread.frames.find((one) => one.id === ask.frameId) ?? null;
  const place = shown.findLastIndex((one) => one.id === ask.messageId || one.id === ask.first?.messageId);
  const text = shown[place];
  if (!frame || !text) return [];
  const tag = (thread.caseId === null ? undefined : tags.get(thread.caseId)) ?? '';
  const traits = traitsOf(content.flows, frame);
  // With several patients in hand an answer says of whom it is; the words of an alarm are understood by themselves.
  const isOneOfSeveral = asking.some((one) => one.caseId !== thread.caseId) && !isAlarm(traits);
  const lead = isOneOfSeveral && mayLead(content, locale, tag) ? `${tag} ` : '';
  const words = optionWords(
    text.text,
    ask.options.map((one) => one.reply),
  );
  return [
    {
      key: `${frame.id} ${ask.field}`,
      pressing: isPressing(content, frame.flow, frame.state, traits),
      caseId: thread.caseId,
      tag,
      title: titleOf(text.text, [...words.keys()][0]),
      several: ask.kind === 'choices',
      choices: ask.options.map(({ reply, id }) => ({
        reply: `${lead}${reply}`,
        label: words.get(reply) ?? labelOf(text, ask, id, content, locale),
      })),
      place,
    },
  ];
}

function labelOf(text: StoredMessage, ask: OpenAsk, id: string, { texts }: Content, locale: string): string {
  return text.said?.ask?.options.find((one) => one.id === id)?.label ?? texts.label(locale, ask.field, id);
}

/** A question of the doctors' ladder that this person was asked. */
function doctorsQuestion(
  { texts, programme }: Content,
  { locale }: Person,
  question: Question,
  tags: ReadonlyMap<string, string>,
  shown: Texts,
): readonly Placed[] {
  const token = doctorToken(question.id);
  const place = shown.findLastIndex((one) => one.said?.ask?.token === token);
  const options = shown[place]?.said?.ask?.options;
  if (!options) return [];
  const tag = (question.caseId === null ? undefined : tags.get(question.caseId)) ?? '';
  const about = texts.render(locale, `doctor.about-${question.about}`, () => '');
  return [
    {
      key: token,
      pressing: programme.urgencies[question.urgency]?.daytime === false,
      caseId: question.caseId,
      tag,
      title: `${[`Q${question.tag}`, tag].filter((one) => one !== '').join(' ')}: ${about}`,
      several: false,
      choices: question.options.map(({ id, reply }) => ({
        reply: `${question.tag} ${reply}`,
        label: options.find((one) => one.id === id)?.label ?? texts.label(locale, question.about, id),
      })),
      place,
    },
  ];
}

/** What stands before the first option that the text explains, or all of a text that explains none. */
function titleOf(text: string, first: string | undefined): string {
  const at = first === undefined ? null : new RegExp(`\\s${first}:? (?=\\p{L})`, 'u').exec(text);
  // Words that were said in the same text stand on lines of their own before it.
  return at ? text.slice(0, at.index).trim().split('\n').at(-1)! : text;
}

/** A patient who is called like one of the line's own words is not named by the tag alone. */
function mayLead({ texts }: Content, locale: string, tag: string): boolean {
  return /^[\p{L}\p{N}-]+$/u.test(tag) && texts.keyword(locale, foldWord(tag)) === null;
}

function isAlarm({ alarm }: Traits): boolean {
  return alarm === 'raised' || alarm === 'emergency';
}

/** A needle was in, an alarm is open, or silence here raises one. */
function isPressing({ flows }: Content, flow: string, state: string, traits: Traits): boolean {
  if (traits.bedside === 'needle' || traits.alarm !== undefined) return true;
  const here = flows.newest.get(flow)?.states.get(state);
  return (here?.timers ?? []).some(({ name }) => here!.transitions.get(`timer.${name}`)?.question?.urgency === 'now');
}
