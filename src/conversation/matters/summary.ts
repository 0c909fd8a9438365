/** The whole case on one screen, for a doctor who knows nothing of it. */
import { answerOf } from '../../case/case.ts';
import { nodulesOf } from '../../case/findings-of.ts';
import type { Moment } from '../moment.ts';
import { ageText, codeText, listAnswer, noduleId, textAnswer } from './common.ts';
import { decidedOf } from './decided.ts';
import { policiesText } from './decision-words.ts';
import { bleedingWords, noduleWithGrowth, pregnancyText, seenText } from './findings-words.ts';
import { perhapsText } from './same-patient.ts';

/** Who, which lump, what was seen, what every policy says; '' without a case. Only what was asked is said. */
export function summaryText(moment: Moment): string {
  const of = moment.case;
  if (!of) return '';
  const { texts } = moment.world;
  const label = (field: string, id: string): string => (id === '' ? '' : texts.label(moment.person.locale, field, id));
  const specimen = moment.specimen ?? of.specimens[0] ?? null;
  const who = [
    of.tag,
    label('sexShort', textAnswer(moment, 'patient.sex')),
    `${ageText(moment)}${pregnancyText(moment)}`,
    codeText(specimen),
  ];
  const parts = [who.filter((one) => one !== '').join(' ')];
  const perhaps = perhapsText(moment);
  if (perhaps !== '') parts.push(perhaps);
  const signs = listAnswer(moment, 'dangerSigns').map((id) => label('dangerSigns', id));
  if (signs.length > 0) parts.push(signs.join(', '));
  const risks = listAnswer(moment, 'risks').filter((id) => id !== 'unknown');
  if (risks.length > 0) parts.push(risks.map((id) => label('risks', id)).join(', '));
  const bleeding = bleedingWords(moment);
  if (bleeding.length > 0) parts.push(bleeding.join(', '));
  const about = noduleId(moment);
  const ids = nodulesOf(of).filter((id) => about === null || !specimen || id === about);
  for (const id of ids) {
    const inside = label('composition', textAnswer(moment, 'composition', id));
    parts.push([noduleWithGrowth(moment, id), inside, seenText(moment, id)].filter((one) => one !== '').join(' '));
  }
  const tsh = answerOf(of, 'tsh');
  if (typeof tsh === 'string') parts.push(texts.render(moment.person.locale, 'new.tsh-is', () => label('tsh', tsh)));
  const nodules = decidedOf(moment)?.nodules ?? [];
  const weighed = nodules.find((one) => one.id === about) ?? nodules[0];
  if (weighed) parts.push(policiesText(moment, weighed));
  return parts.join('; ');
}
