/** A phone that a site or a laboratory shares: who samples, and who reports, is asked by list number and kept in the case. */
import { toAsciiDigits } from '../../text/digits.ts';
import { read, unreadable } from '../answers/answer.ts';
import type { Matter, Moment } from '../moment.ts';
import { membersOf } from '../people.ts';

/** `1 Ada Lumo 2 Beno Sarr`. */
function listText(m: Moment): string {
  return membersOf(m.person)
    .map((name, index) => `${index + 1} ${name}`)
    .join(' ');
}

export const shared: Matter = {
  decisions: {
    'shared-phone': {
      outcomes: ['own', 'shared'],
      decide: (m) => (membersOf(m.person).length > 1 ? 'shared' : 'own'),
    },
  },
  readers: {
    member: (text, m) => {
      const members = membersOf(m.person);
      const said = toAsciiDigits(text).trim();
      const number = /^\d$/.test(said) ? Number(said) : 0;
      const byName = members.find((one) => one.toLowerCase() === said.toLowerCase());
      const name = byName ?? members[number - 1];
      if (name === undefined) return unreadable(/^\d+$/.test(said) ? 'not-an-option' : 'not-a-number');
      const got = read(name);
      return got.ok ? { ok: true, value: { value: got.value } } : got;
    },
  },
  values: {
    members: { of: listText, sample: '1 Ada Lumo 2 Beno Sarr 3 Mila Ost' },
  },
};
