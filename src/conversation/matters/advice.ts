/** The advice with all its reasons, said on as few screens as it needs: none of it is cut, and each screen bears the tag. */
import type { KeyIn } from '../../generated/text-keys.ts';
import type { Matter, Moment } from '../moment.ts';
import { siteHere } from './common.ts';
import {
  aboutLumpText,
  guideText,
  othersText,
  referHowText,
  referLookText,
  reviewWhenText,
  tagged,
  whyText,
} from './decision-words.ts';
import { targetsText } from './target.ts';

type Advice = KeyIn<'decision'> extends infer Key ? (Key extends `advice-${infer Name}` ? Name : never) : never;

/** What a text of advice may name; all of it of the decision that stands. */
const parts: Readonly<Record<string, (moment: Moment) => string>> = {
  hospital: (moment) => siteHere(moment).hospital,
  targets: targetsText,
  guide: guideText,
  why: whyText,
  aboutLump: aboutLumpText,
  others: othersText,
  referHow: referHowText,
  referLook: referLookText,
  reviewWhen: reviewWhenText,
};

/** Each advice that has reasons, with one of usual length. */
const samples: Readonly<Record<Advice, string>> = {
  'urgent-sample': 'AK: REFER URGENTLY to Velin Hospital. Why: hoarse voice.',
  'urgent-refer': 'AK: REFER URGENTLY to Velin Hospital. Do no needle here. Why: hoarse voice.',
  'urgent-ask': 'AK: REFER URGENTLY to Velin Hospital. Why: hoarse voice.',
  refer:
    'AK: REFER FIRST to Velin Hospital. Do no needle here. Why: bleeding disorder. It is about the RIGHT lump, 22 mm.',
  elsewhere: 'AK: SAMPLE ELSEWHERE, guided by ultrasound: Velin Hospital. Why: solid, over 10 mm.',
  optional: 'AK: RIGHT lump, 22 mm: a needle is OPTIONAL, guided by ultrasound. Why: solid, over 10 mm.',
  'follow-up': 'AK: NO NEEDLE NOW. Do ultrasound again in 6-12 months. Why: solid, not over 10 mm.',
  'no-sampling': 'AK: NO NEEDLE. Why: all fluid.',
  open: 'AK: this CANNOT BE SETTLED here: the doctor decides. Why: bleeding risk not known.',
};

function adviceText(moment: Moment, name: Advice): string {
  const { texts } = moment.world;
  return tagged(
    moment,
    texts.render(moment.person.locale, `decision.advice-${name}`, (part) => parts[part]?.(moment) ?? ''),
  );
}

/** `{advice.refer}`: the screens of an advice; what to send follows on one of its own. */
export const adviceValues: NonNullable<Matter['values']> = Object.fromEntries(
  (Object.keys(samples) as Advice[]).map((name) => [
    `advice.${name}`,
    { of: (moment: Moment) => adviceText(moment, name), sample: samples[name] },
  ]),
);
