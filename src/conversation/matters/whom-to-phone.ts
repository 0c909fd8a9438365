/** What a line to a coordinator says of a matter: how urgent it is, whom to phone, by when. */
import { clockWords, dayWordsAt } from '../../text/time-words.ts';
import { canBeDialled, shownNumber } from '../channel-facts.ts';
import type { Matter, Moment } from '../moment.ts';
import { laboratoryPeople, ladder, waitsFor, waitsHere } from '../people.ts';
import type { Person } from '../world.ts';
import { laboratoryHere, readerZone } from './common.ts';

/** People that one line names: more numbers than that are not dialled. */
const mostNamed = 2;

/** `Dr Tano +000555010002`; whoever writes by Telegram has no number here. */
export function nameAndNumber(person: Person): string {
  const address = person.addresses.find((one) => one.channel !== 'telegram');
  return address === undefined ? person.name : `${person.name} ${shownNumber(address)}`;
}

function listed(moment: Moment, people: readonly Person[]): string {
  const named = people.slice(0, mostNamed).map(nameAndNumber);
  if (named.length > 0) return named.join(', ');
  return moment.world.texts.render(moment.person.locale, 'common.nobody-to-phone', () => '');
}

/** Who waits for the answer of what is told; where nothing was asked, whoever carries the case. */
function clinicPerson(moment: Moment): Person | null {
  const { about, askedBy } = moment.frame.vars;
  return waitsHere(moment.world, moment.case, { about: String(about ?? ''), askedBy: String(askedBy ?? '') });
}

function clinic(moment: Moment): string {
  const one = clinicPerson(moment);
  return listed(moment, one ? [one] : []);
}

/** ` Phone of the clinic: Ada Lumo +000555010001.`, where a number can be dialled; else ''. */
function phoneHere(moment: Moment): string {
  const asked = moment.questions.find(({ id }) => id === moment.frame.vars.question);
  const one = asked ? waitsFor(moment.world, moment.case, asked) : clinicPerson(moment);
  if (!one?.addresses.some(({ channel }) => canBeDialled(channel))) return '';
  return moment.world.texts.render(moment.person.locale, 'doctor.phone-here', () => nameAndNumber(one));
}

/** A text by the urgency of what is asked; '' where the programme has an urgency of its own. */
function byUrgency(moment: Moment, of: 'urgency' | 'by'): string {
  const { texts } = moment.world;
  const key = `common.${of}-${String(moment.frame.vars.urgency ?? '')}`;
  return texts.has(key) ? texts.render(moment.person.locale, key, () => asked(moment)) : '';
}

/** When it was asked, with the day. */
function asked(moment: Moment): string {
  const at = Number(moment.frame.vars.openedAt ?? moment.now);
  const zone = readerZone(moment);
  return `${dayWordsAt(at, zone, moment.world.texts.months(moment.person.locale))} ${clockWords(at, zone)}`;
}

/** What a doctor is asked, in the few words of a list. */
function questionIs(moment: Moment): string {
  const { texts } = moment.world;
  const key = `doctor.about-${String(moment.frame.vars.about ?? '')}`;
  return texts.has(key) ? texts.render(moment.person.locale, key, () => '') : '';
}

export const whomToPhone: Matter = {
  values: {
    clinicPhone: { of: clinic, sample: 'Ada Lumo +000555010001' },
    phoneHere: { of: phoneHere, sample: ' Phone of the clinic: Ada Lumo +000555010001.' },
    doctorPhones: { of: (m) => listed(m, ladder(m.world, m.now)), sample: 'Dr Tano +000555010002' },
    labPhone: {
      of: (m) => listed(m, laboratoryPeople(m.world, laboratoryHere(m).id)),
      sample: 'Beno Sarr +000555010003',
    },
    urgencyIs: { of: (m) => byUrgency(m, 'urgency'), sample: 'URGENT, asked 4 MAR 11:00, patient there' },
    byWhen: { of: (m) => byUrgency(m, 'by'), sample: 'by tomorrow' },
    questionIs: { of: questionIs, sample: 'needle or not?' },
  },
};
