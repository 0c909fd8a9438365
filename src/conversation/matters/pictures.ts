/**
 * Photos. A programme that allows them has them shown to its doctors, with a question about the case; every other one
 * refuses them. The line passes on the name under which the network keeps a photo: it fetches none and keeps none.
 */
import type { TextKey } from '../../generated/text-keys.ts';
import { longestQuoted, quotedWords } from '../../text/one-line.ts';
import type { DueWhat } from '../event.ts';
import { ladder, personById } from '../people.ts';
import { limitOf } from '../programme.ts';
import type { Question, QuestionPicture } from '../state.ts';
import type { Turn } from '../turn.ts';
import type { Person } from '../world.ts';
import { beginsWithCode, questionFor, whatAbout } from './ask.ts';

/** Whoever may ask a doctor in words may do so with a photo. */
export function mayAskDoctor(turn: Turn, person: Person): boolean {
  const word = turn.registry.commands.get('DOCTOR');
  return word?.roles.some((role) => person.roles.includes(role)) === true;
}

/** Of what was sent together nothing else is heard that does not stand for itself. */
export function refuseAlbum(turn: Turn, album: string | undefined): void {
  if (album === undefined || turn.event.kind !== 'unreadable') return;
  turn.onceKeys.push(`album:${turn.event.from.channel}:${turn.event.from.address}:${album}`);
}

function canSee(person: Person, picture: QuestionPicture): boolean {
  return person.addresses.some((one) => one.channel === picture.channel);
}

/**
 * A photo came, `words` under it. True: it has been dealt with. It goes with the question that this person has open about
 * the case, or is one, and a doctor who can see it is asked whatever the ladder says.
 */
export function hearPicture(turn: Turn, person: Person, sent: QuestionPicture): boolean {
  if (turn.world.programme.pictures === 'refused' || !mayAskDoctor(turn, person)) return false;
  const together = turn.questions.findLast(
    (one) => one.answeredAt === null && one.pictures?.some((of) => of.album !== undefined && of.album === sent.album),
  );
  const coded = beginsWithCode(sent.words);
  const goesAlong = together !== undefined && !coded;
  const about = goesAlong ? { words: sent.words.trim(), caseId: together.caseId } : whatAbout(turn, person, sent.words);
  const doctors = ladder(turn.world, turn.now).filter((one) => one.id !== person.id && canSee(one, sent));
  const first = doctors[0];
  // Where the words of an album led nowhere, no other picture of it is taken for the patient at hand.
  if (!about || !first || (!goesAlong && !coded)) refuseAlbum(turn, sent.album);
  if (!about) return true;
  const { words, caseId } = about;
  const say = (key: TextKey, vars: Record<string, string> = {}): true => {
    turn.say(person, key, { frame: null, caseId, vars });
    return true;
  };
  turn.aboutCaseId = caseId;
  if (!first) return say('ask.picture-unseen');
  const picture = {
    ...sent,
    words: words === '' ? turn.world.texts.render(person.locale, 'ask.picture-words', () => '') : words,
  };
  const open = turn.questions.findLast(
    (one) => one.askedBy === person.id && one.caseId === caseId && one.answeredAt === null,
  );
  if (!open) {
    const question = questionFor(turn.caseOf(caseId)?.status);
    turn.openQuestion(question, caseId, null, picture.words, { firstRung: first, pictures: [picture] });
    say('ask.picture-asked', { who: first.name });
    return say('ask.picture-rules');
  }
  const before = open.pictures ?? [];
  const most = limitOf(turn.world.programme, 'pictures');
  if (before.length >= most) return say('ask.picture-too-many', { count: String(most) });
  const seer = doctors.find((one) => open.askedOf.includes(one.id)) ?? first;
  const askedOf = [...new Set([...open.askedOf, seer.id])];
  turn.putQuestion({ ...open, askedOf, pictures: [...before, picture] });
  if (caseId !== null) turn.record(caseId, { type: 'noted', words: picture.words });
  for (const id of open.askedOf) {
    turn.post(id, { kind: 'picture', questionId: open.id, place: before.length }, { caseId });
  }
  if (!open.askedOf.includes(seer.id)) {
    turn.post(seer.id, { kind: 'ask-doctor', questionId: open.id, rung: open.rung }, { caseId });
  }
  say('ask.picture-added', { who: seer.name });
  return before.length > 0 || say('ask.picture-rules');
}

/** Before a doctor sees a question for the first time: what came with it. Where it cannot be shown, that there is something. */
export function showPictures(turn: Turn, person: Person, question: Question): void {
  for (const picture of question.pictures ?? []) {
    if (!showPicture(turn, person, question, picture)) return;
  }
}

/** A picture that came later. A doctor who has not been shown the question yet gets both together. */
export function showLatePicture(turn: Turn, person: Person, what: DueWhat & { readonly kind: 'picture' }): void {
  const question = turn.questions.find((one) => one.id === what.questionId);
  const picture = question?.pictures?.[what.place];
  const shown = turn.state.shownQuestions.includes(what.questionId);
  if (!question || !picture || !shown || question.answeredAt !== null) return;
  showPicture(turn, person, question, picture);
  turn.disturbed = true;
}

/** False: this doctor cannot see it, and has been told so. */
function showPicture(turn: Turn, person: Person, question: Question, picture: QuestionPicture): boolean {
  const seen = canSee(person, picture);
  turn.say(person, seen ? 'doctor.picture' : 'doctor.picture-unseen', {
    frame: null,
    caseId: question.caseId,
    item: question.item,
    vars: {
      q: question.tag,
      who: personById(turn.world, question.askedBy)?.name ?? '',
      words: quotedWords(picture.words, longestQuoted),
    },
    lane: question.urgency === 'now' ? 'sos' : 'notice',
    ...(seen ? { picture } : {}),
  });
  return seen;
}
