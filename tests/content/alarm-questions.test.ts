import { describe, expect, it } from 'vitest';
import type { TextKey } from '../../src/generated/text-keys.ts';
import { foldWord } from '../../src/text/fold.ts';
import { shipped } from '../support/shipped.ts';

/** Every question that the words of an open alarm answer, in every language, with those words. */
const questions = shipped.texts.languages.flatMap(({ tag }) =>
  shipped.sources.flows.flatMap(({ flow }) =>
    [...flow.states.values()].flatMap((state) => {
      const answers = (state.ask?.options ?? []).flatMap((one) => one.alarm ?? []);
      return answers.length === 0 ? [] : [{ tag, key: state.text, answers }];
    }),
  ),
);

/** What is sent for an answer: its first word in this language. */
function wordOf(tag: string, answer: (typeof questions)[number]['answers'][number]): string {
  const [language] = shipped.texts.alarmWords(tag);
  return foldWord(language?.answers[answer][0] ?? answer);
}

describe('the question of an open alarm', () => {
  it('is asked of an emergency decision and of an SOS', () => {
    const keys = questions.map(({ key }) => key);
    expect(keys).toEqual(expect.arrayContaining(['decision.emergency', 'decision.emergency-waits', 'sos.how']));
  });

  it.each(questions)('$tag $key says each word that answers it, the way out too', ({ tag, key, answers }) => {
    const text = foldWord(shipped.texts.render(tag, key as TextKey, (name) => `{${name}}`));
    for (const answer of answers) expect(text).toContain(wordOf(tag, answer));
    expect(answers).toContain('cannot');
  });

  it('between two checks the ways out of an SOS are said again', () => {
    const text = foldWord(shipped.texts.render('en', 'sos.next-check', (name) => `{${name}}`));
    for (const answer of ['worse', 'going', 'cannot'] as const) expect(text).toContain(wordOf('en', answer));
  });
});
