/** What `neckline setup` says once the files are written: what a month costs, and what to do next. */
import { existsSync, statSync } from 'node:fs';
import { join } from 'node:path';
import type { Content } from '../content/load.ts';
import type { Answers } from '../setup/answers.ts';
import { folderFiles } from '../setup/kept-files.ts';
import { type CaseSegments, monthOf } from '../setup/month.ts';
import { nextSteps } from '../setup/next-steps.ts';
import type { SettingPlaces } from '../setup/settings-text.ts';
import { readerOf } from './readers.ts';
import { wholeCaseCosts } from './whole-case.ts';

/** Segments and money of a month; '' without SMS, or where nobody said that there are cases. */
export async function monthWords(answers: Answers, content: Content): Promise<string> {
  const { sms, casesAMonth } = answers;
  if (!sms || !casesAMonth) return '';
  const ofCase = await dearestCase(answers.programme.languages, content);
  const { out, in: into, money, credit } = monthOf(answers, ofCase);
  const cost = money
    ? `One case costs ${money.ofCase.toFixed(2)} ${money.currency}, a month ${money.amount.toFixed(2)} ${money.currency}.\n`
    : 'No price was given: add price: and the money is reckoned too.\n';
  return `
SMS segments of one whole case (worker, doctor, laboratory, plain words): ${ofCase.out} sent, ${ofCase.in} received.
A month with ${casesAMonth} cases, and a morning text a day to each coordinator: ${out} sent, ${into} received.
${cost}Buy ${credit} segments to begin with, a quarter above the month for reminders and repeats, and once the line runs
have a coordinator text: CREDIT ${credit}
People on Telegram cost no segments, so it may be less.
`;
}

/** Who has read each language of the programme as its nurses would; nobody is said too. */
export function languageWords({ programme }: Answers, { sources }: Content): string {
  const lines = programme.languages.map((tag) => {
    const locale = sources.locales.find((one) => one.tag === tag);
    const reader = locale ? readerOf(locale) : null;
    return reader?.stands
      ? `Language ${tag}: read by ${reader.name}, ${reader.on}\n`
      : `Language ${tag}: read by no nurse yet; let one of yours read its texts before a patient depends on them\n`;
  });
  return `\n${lines.join('')}`;
}

/** Of the programme's languages the one whose case takes most segments, played. */
async function dearestCase(languages: readonly string[], content: Content): Promise<CaseSegments> {
  const costs = await wholeCaseCosts(content, { languages, ways: ['plain'] });
  const sums = languages.map((tag) => {
    const rows = costs.filter((one) => one.locale === tag);
    return {
      out: rows.reduce((sum, { receives }) => sum + receives.segments, 0),
      in: rows.reduce((sum, { sends }) => sum + sends.segments, 0),
    };
  });
  return sums.reduce((most, one) => (one.out + one.in > most.out + most.in ? one : most));
}

/** The steps, numbered, under whose they are. */
export function stepWords(answers: Answers, folder: string, places: SettingPlaces): string {
  const at = {
    ...places,
    folder,
    settings: join(folder, folderFiles.settings),
    roster: join(folder, folderFiles.roster),
  };
  const { uid, gid, mode } = statSync(folder);
  const disk = {
    token: existsSync(places.telegramToken),
    password: existsSync(places.smsPassword),
    backupKey: existsSync(places.backupKey),
    shut: uid === 0 && (gid === 0 || (mode & 0o050) === 0) && (mode & 0o007) === 0,
  };
  const heads = { root: 'As root:', line: "As the line's own user (on a server: runuser -u neckline -- COMMAND):" };
  let by = '';
  const steps = nextSteps(answers, at, disk).map((step, index) => {
    const head = step.by === by ? '' : `\n${heads[step.by]}\n`;
    by = step.by;
    return `${head}${index + 1}. ${step.what}\n${step.lines.map((line) => `     ${line}\n`).join('')}`;
  });
  return `\nWhat is left to do.\n${steps.join('')}`;
}
