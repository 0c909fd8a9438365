/** LANGUAGE: which languages there are, and going on in another one. */

import { roles } from '../../case/roles.ts';
import { toAsciiDigits } from '../../text/digits.ts';
import { foldWord } from '../../text/fold.ts';
import type { Interpreter } from '../interpret.ts';
import type { Matter } from '../moment.ts';
import type { Turn } from '../turn.ts';

/** `LANGUAGE` lists them; `LANGUAGE 2`, or with the name, changes: what is said and asked from then on is in that one. */
function language(turn: Turn, interpreter: Interpreter, rest: string): void {
  const { person } = interpreter;
  const { languages } = turn.world.texts;
  const wanted = foldWord(toAsciiDigits(rest).trim());
  const chosen = languages.find(
    ({ tag, name }, index) => wanted === String(index + 1) || wanted === foldWord(name) || wanted === foldWord(tag),
  );
  turn.disturbed = true;
  if (chosen && languages.length > 1) {
    turn.changePeople({ kind: 'put-person', person: { ...person, locale: chosen.tag } });
    turn.say({ ...person, locale: chosen.tag }, 'language.now', {
      frame: null,
      caseId: null,
      vars: { language: chosen.name },
    });
    return;
  }
  const list = languages.map(({ name }, index) => `${index + 1} ${name}`).join(' ');
  const only = languages[0]?.name ?? '';
  const key = languages.length > 1 ? 'language.which' : 'language.only';
  turn.say(person, key, { frame: null, caseId: null, vars: { languages: list, language: only } });
}

export const languageMatter: Matter = {
  commands: { LANGUAGE: { roles, run: language } },
};
