import { afterEach, describe, expect, it } from 'vitest';
import { compileTexts } from '../../src/content/texts.ts';
import { LinkedLine } from '../support/linked-line.ts';
import { person } from '../support/links.ts';
import { shipped as content } from '../support/shipped.ts';

const english = content.sources.locales.find(({ tag }) => tag === 'en');
/** English with another name, in which every patient's question begins with another word. */
const other = {
  ...english!,
  tag: 'sw',
  meta: { ...english!.meta!, name: 'Kiswahili' },
  files: english!.files.map((file) => ({
    ...file,
    texts: new Map([...file.texts].map(([key, text]) => [key, text.replace('NEW PATIENT', 'MGONJWA MPYA')])),
  })),
};
const twoLanguages = { ...content, texts: compileTexts([other, english!]) };
const worker = person('w', 'worker', ['sms']);

let line: LinkedLine;
afterEach(() => line.close());
const last = (): string => line.sms.to('w').at(-1) ?? '';

describe('LANGUAGE', () => {
  it('lists what there is, English first, and asks the open question again', async () => {
    line = await LinkedLine.open([worker], { content: twoLanguages });
    await line.says(worker, 'NEW', 'LANGUAGE');
    expect(line.heardBy('w')).toMatch(
      /Which language do you want\? 1 English 2 Kiswahili\. Send the word and its number\. Like this: LANGUAGE 1/,
    );
    expect(last()).toMatch(/NEW PATIENT/);
  });

  it.each(['LANGUAGE 2', 'language kiswahili', 'Lang sw', 'LANGUAGE ٢'])(
    '%s goes on in that one, for good',
    async (text) => {
      line = await LinkedLine.open([worker], { content: twoLanguages });
      await line.says(worker, text);
      expect(last()).toBe('From now on I write in Kiswahili. For another one: LANGUAGE');
      await line.says(worker, 'NEW');
      expect(last()).toMatch(/MGONJWA MPYA/);
      expect((await line.store.roster('tamboro'))[0]?.locale).toBe('sw');
      await line.says(worker, 'LANGUAGE 1', 'NEW');
      expect(last()).toMatch(/NEW PATIENT/);
    },
  );

  it.each(['LANGUAGE 3', 'LANGUAGE 0', 'LANGUAGE Klingon'])('%s changes nothing and lists them', async (text) => {
    line = await LinkedLine.open([worker], { content: twoLanguages });
    await line.says(worker, text);
    expect(last()).toMatch(/^Which language do you want\? 1 English 2 Kiswahili/);
  });

  it('says so where there is one only', async () => {
    line = await LinkedLine.open([worker], { content: { ...content, texts: compileTexts([english!]) } });
    await line.says(worker, 'LANGUAGE 1');
    expect(last()).toBe('I speak English only.');
  });
});
