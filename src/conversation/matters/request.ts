/** What a laboratory reads of a sample on its way: whose, from where, what was seen, how it was taken and fixed. */
import { bloodySlides, fluidsSent, fluidsSmeared, slidesSent } from '../../case/parcel.ts';
import { noduleOf } from '../../case/target.ts';
import type { KeyIn } from '../../generated/text-keys.ts';
import { packedScreens, screenBreak } from '../../text/screens.ts';
import type { Matter, Moment } from '../moment.ts';
import { siteOf } from '../programme.ts';
import { rinseNotes } from './calcitonin-rinse.ts';
import { codeText, textAnswer } from './common.ts';
import { label, seenText } from './findings-words.ts';
import { fluidWords } from './fluid.ts';
import { siteGuides } from './guidance.ts';
import { resultValues } from './laboratory-words.ts';
import { nodeNotes } from './node.ts';
import { ageGroup } from './posting.ts';
import { sampledWords } from './sampled-words.ts';

function words(moment: Moment, key: KeyIn<'posting'>, value = ''): string {
  return moment.world.texts.render(moment.person.locale, `posting.${key}`, () => value);
}

/** The key's sentence about something, none where there is nothing. */
function about(moment: Moment, key: KeyIn<'posting'>, value: string): readonly string[] {
  return value === '' ? [] : [words(moment, key, value)];
}

/** What the lump looked like, or what came out of a node; that nobody looked is said. */
function lookSentences(moment: Moment): readonly string[] {
  const nodule = moment.specimen ? noduleOf(moment.specimen.target) : null;
  const inside = nodule === null ? '' : textAnswer(moment, 'composition', nodule);
  const seen = [label(moment, 'composition', inside), nodule === null ? '' : seenText(moment, nodule)].filter(
    (one) => one !== '',
  );
  const notes = [...nodeNotes(moment), ...rinseNotes(moment)];
  if (seen.length === 0 && notes.length === 0) return [words(moment, 'not-seen')];
  return [...about(moment, 'request-seen', seen.join(', ')), ...notes];
}

/** How many slides, how fixed, which not well; the fluid that goes along, and the fluid that was smeared. */
function slideSentences(moment: Moment): readonly string[] {
  const { specimen } = moment;
  if (!specimen) return [];
  const count = (state: 'dried' | 'late'): string => {
    const many = specimen.slides.filter((one) => one === state).length;
    return many === 0 || specimen.fixative === 'air-dried' ? '' : String(many);
  };
  const sent = slidesSent(specimen);
  return [
    sent === 0 ? words(moment, 'no-slides') : words(moment, `how-${specimen.fixative ?? 'alcohol'}`, String(sent)),
    ...about(moment, 'some-dried', count('dried')),
    ...about(moment, 'some-late', count('late')),
    ...about(moment, 'with-fluid-along', fluidWords(moment, fluidsSent(specimen))),
    ...about(moment, 'fluid-smeared', fluidWords(moment, fluidsSmeared(specimen))),
  ];
}

function takenSentences(moment: Moment): readonly string[] {
  const { specimen } = moment;
  const technique = words(moment, `tech-${specimen?.technique ?? 'capillary'}`);
  return [
    words(moment, 'request-taken', `${technique}${siteGuides(moment) ? words(moment, 'guided') : ''}`),
    ...about(moment, 'bloody', specimen ? bloodySlides(specimen).join(', ') : ''),
  ];
}

/** `4829 1354 FROM ORUMA CLINIC: patient AK F, aged 40 to 49.` */
function beginning(moment: Moment): string {
  const values: Readonly<Record<string, string>> = {
    code: codeText(moment.specimen),
    site: siteOf(moment.world.programme, moment.case!.siteId).name,
    slideName: resultValues.values.slideName!.of(moment),
    sex: label(moment, 'sexShort', textAnswer(moment, 'patient.sex')),
    ageGroup: ageGroup(moment),
  };
  return moment.world.texts.render(moment.person.locale, 'posting.request-begin', (name) => values[name] ?? '');
}

function placeSentence(moment: Moment): string {
  const values: Readonly<Record<string, string>> = {
    sampledWhere: sampledWords.sampledWhere!.of(moment),
    size: (moment.specimen?.target.mm ?? []).join('x'),
  };
  return moment.world.texts.render(moment.person.locale, 'posting.request-where', (name) => values[name] ?? '');
}

/** The facts of the request of one specimen, on as few screens as they need. */
function requestScreens(moment: Moment): string {
  if (!moment.case) return '';
  const facts = [
    placeSentence(moment),
    ...lookSentences(moment),
    words(moment, 'request-tsh', label(moment, 'tsh', textAnswer(moment, 'tsh') || 'unknown')),
    ...slideSentences(moment),
    ...takenSentences(moment),
  ];
  const next = words(moment, 'request-next', codeText(moment.specimen));
  return packedScreens(beginning(moment), next, facts.slice(0, -1), facts.at(-1)!);
}

const sample = [
  '4829 1354 FROM Oruma clinic: patient AKO F, aged 40 to 49. RIGHT UPPER thyroid lump, 22x15x14 mm. On ultrasound: solid, dark, jagged edge.',
  '4829 1354: TSH is normal. Slides in ALCOHOL: 4. Taken: needle alone, guided by ultrasound. Blood on slide 1-2.',
].join(screenBreak);

export const request: Matter = { values: { requestScreens: { of: requestScreens, sample } } };
