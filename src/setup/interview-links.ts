/** Questions about the links by which people reach the line, and about what is kept where. */
import { z } from 'zod';
import { answerParts } from './answers.ts';
import { folderFiles } from './kept-files.ts';
import { ask, bySchema, listOf, oneOf, type Question, yesOrNo } from './question.ts';

/** SMS, Telegram, keys; `folder`: where the files go. */
export function* interviewLinks(folder: string): Generator<Question, object, unknown> {
  const withSms = yield* ask<boolean>(
    {
      id: 'sms.wanted',
      words: 'Do people reach the line by SMS (yes, no)?',
      usual: 'yes',
      explain: 'It needs a gateway: deploy/sms.md.',
    },
    yesOrNo,
  );
  const sms = withSms ? { sms: yield* interviewSms() } : {};
  const withTelegram = yield* ask<boolean>(
    {
      id: 'telegram.wanted',
      words: 'By Telegram too (yes, no)?',
      usual: withSms ? 'no' : 'yes',
      explain: 'Its operator can read what passes: deploy/telegram.md says what to settle first.',
    },
    yesOrNo,
  );
  const telegram = withTelegram ? { telegram: {} } : {};
  const top = answerParts.top.shape;
  const data = yield* ask<string>(
    {
      id: 'data',
      words: 'In which folder does the database stand?',
      usual: '/var/lib/neckline',
      explain: 'The installed service has this one.',
    },
    bySchema(top.data),
  );
  const keyFile = yield* ask<string>(
    {
      id: 'keyFile',
      words: 'In which file does its key stand?',
      usual: '/var/lib/neckline-key/line.key',
      explain: 'Outside of the folder of the database: a copy of the data without the key tells nobody anything.',
    },
    bySchema(top.keyFile),
  );
  const backupKey = yield* ask<string>(
    {
      id: 'backupKey',
      words: 'In which file does the public key stand that backups are sealed to?',
      usual: `${folder}/${folderFiles.backupKey}`,
      explain: 'It may be made afterwards: the steps at the end say how. Its private half belongs on no server.',
    },
    bySchema(top.backupKey.unwrap()),
  );
  return { ...sms, ...telegram, data, keyFile, backupKey };
}

function* interviewSms() {
  const of = answerParts.sms.shape;
  const gateway = yield* ask<string>(
    {
      id: 'sms.gateway',
      words: 'Which gateway (kannel, generic)?',
      usual: 'kannel',
      explain:
        'kannel: the one that deploy/sms.md describes. generic: any that speaks HTTP, with a file that names its fields.',
    },
    oneOf(['kannel', 'generic']),
  );
  const mapping =
    gateway === 'kannel'
      ? {}
      : {
          mapping: yield* ask<string>(
            {
              id: 'sms.mapping',
              words: 'Which file names its fields?',
              example: '/etc/neckline/sms-mapping.json',
              explain: 'A copy of deploy/sms-mapping.example.json with the names of your gateway.',
            },
            bySchema(of.mapping.unwrap()),
          ),
        };
  const sendUrl = yield* ask<string>(
    {
      id: 'sms.sendUrl',
      words: 'At which address does the gateway take texts?',
      usual: gateway === 'kannel' ? 'http://127.0.0.1:13013/cgi-bin/sendsms' : null,
      explain: 'The usual one is that of deploy/kannel.conf on the same machine.',
    },
    bySchema(of.sendUrl),
  );
  const user = yield* ask<string>(
    {
      id: 'sms.user',
      words: 'Under which name does the line sign in there?',
      usual: 'neckline',
      explain: 'The name of our account at the gateway. Its password goes into a file, never through this question.',
    },
    bySchema(of.user),
  );
  const number = yield* ask<string>(
    {
      id: 'sms.number',
      words: 'Which number do people write to?',
      example: '1234',
      explain: 'The short code or the phone number of the line.',
    },
    bySchema(of.number),
  );
  const prefixes = yield* ask<readonly string[]>(
    {
      id: 'sms.prefixes',
      words: 'How do the numbers begin that the line may write to?',
      example: '+999',
      explain: "The country's code, with +. Several with commas between them. Nothing is ever sent to another number.",
    },
    listOf(z.string().regex(/^\+\d{1,10}$/, 'a beginning such as +999')),
  );
  const country = yield* ask<string | undefined>(
    {
      id: 'sms.country',
      words: 'How do numbers of your own country come (code/digits)?',
      usual: '',
      example: '+999/9',
      explain:
        'Where the network writes them without the country: its code, and how many digits follow, the 0 not counted. Empty: they come with the country.',
    },
    bySchema(of.country),
  );
  return { gateway, ...mapping, sendUrl, user, number, prefixes, ...(country === undefined ? {} : { country }) };
}
