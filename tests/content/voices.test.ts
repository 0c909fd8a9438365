import { describe, expect, it } from 'vitest';
import { loadContent } from '../../src/content/load.ts';
import { alwaysPlain } from '../../src/content/never-brief.ts';
import type { TextKey } from '../../src/generated/text-keys.ts';
import { shipped } from '../support/shipped.ts';
import { inSwahili, packageWith, problemsOf, watchFlow, watchTexts } from './package-fixture.ts';

const plainNeck = '"neck": "{tag}: neck? 1 well 2 changed 9 cannot tell",';
const with_ = (more: string) => watchTexts.replace(plainNeck, `${plainNeck}\n  ${more}`);
const brief = (text: string) => ({ 'locales/en/watch.json': with_(`"neck_brief": "${text}",`) });
const key = (name: string) => name as TextKey;
const values = (name: string) => ({ tag: 'AK', time: '10:42', count: '3' })[name] ?? '?';

describe('a text in two voices', () => {
  const texts = loadContent(packageWith(brief('{tag}? 1 well 2 not 9 ?'))).texts;

  it('is brief where a brief one was written, and plain unless asked', () => {
    expect(texts.render('en', key('watch.neck'), values, 'brief')).toBe('AK? 1 well 2 not 9 ?');
    expect(texts.render('en', key('watch.neck'), values)).toBe('AK: neck? 1 well 2 changed 9 cannot tell');
  });

  it('is plain where no brief one was written', () => {
    expect(texts.render('en', key('watch.press-words'), values, 'brief')).toBe('Press until 10:42.');
  });

  it('is one text, whose name in code has no voice', () => {
    expect(texts.has('watch.neck_brief')).toBe(false);
  });

  it("is the language's own plain text before another language's brief one", () => {
    const swahili = inSwahili(watchTexts.replace('changed 9', 'imebadilika 9'));
    const both = loadContent(packageWith({ ...swahili, ...brief('{tag}? 1 well 2 not 9 ?') })).texts;
    expect(both.render('sw', key('watch.neck'), values, 'brief')).toContain('imebadilika');
  });

  it('has the plural forms of each voice', () => {
    const parcel = {
      ...{ slides_one: '{count} slide is there', slides_brief_one: '{count} slide' },
      ...{ slides_other: '{count} slides are there', slides_brief_other: '{count} slides' },
    };
    const of = loadContent(packageWith({ 'locales/en/parcel.json': JSON.stringify(parcel) })).texts;
    const said = (count: string, voice: 'plain' | 'brief') => of.render('en', key('parcel.slides'), () => count, voice);
    expect([said('1', 'brief'), said('4', 'brief')]).toEqual(['1 slide', '4 slides']);
    expect([said('1', 'plain'), said('4', 'plain')]).toEqual(['1 slide is there', '4 slides are there']);
  });
});

describe('a brief text', () => {
  it('says the same in fewer words', () => {
    expect(problemsOf(brief('{tag} neck? 1 well 2 changed 9 ?'))).toEqual([]);
  });

  it.each([
    ['another value', '{time} neck? 1 well 2 changed 9 ?', 'has the values time, the plain text has tag'],
    ['a value less', 'neck? 1 well 2 changed 9 ?', 'has the values none, the plain text has tag'],
    ['a digit more', '{tag}? 1 well 2 bad 3 9 ?', 'has the numbers 1 2 3 9, the plain text has 1 2 9'],
    ['a digit less', '{tag}? 1 well 2 bad', 'has the numbers 1 2, the plain text has 1 2 9'],
    ['its options in another order', '{tag}? 2 bad 1 well 9 ?', 'has the numbers 2 1 9, the plain text has 1 2 9'],
    ['as many letters', '{tag}: neck? 1 well 2 changed 9 cannot tell', 'is not shorter'],
  ])('is refused with %s', (_, text, what) => {
    expect(
      problemsOf(brief(text))
        .filter((one) => one.includes('neck_brief'))
        .join('\n'),
    ).toContain(what);
  });

  it('is refused without a plain one', () => {
    const files = { 'locales/en/watch.json': with_('"neck_brief_one": "{tag}? 1 2 9",') };
    expect(problemsOf(files).join('\n')).toContain('neck_brief_one  has no plain text beside it');
  });

  it('is missed in no other language', () => {
    const swahili = watchTexts.replace('well|fine', 'sawa').replace('changed|swollen', 'imebadilika');
    const problems = problemsOf({ ...inSwahili(swahili), ...brief('{tag}? 1 well 2 not 9 ?') });
    expect(problems.filter((one) => one.includes('_brief') || one.includes('missing'))).toEqual([]);
  });

  it('is refused where a needle is or was in', () => {
    const flow = watchFlow.replace('initial: press', 'initial: press\ntraits: { bedside: needle }');
    const files = { 'flows/watch.yaml': flow, ...brief('{tag}? 1 well 2 not 9 ?') };
    expect(problemsOf(files).join('\n')).toContain('neck_brief  is plain in both voices');
  });

  it.each([
    ['before gloves', 'sampling.brief-before'],
    ['in first aid', 'sos.first-aid'],
    ['at the checks', 'ready.checks'],
    ['at the dangers', 'ready.dangers'],
    ['at an attempt', 'sampling.report'],
    ['on the slides', 'sampling.slides'],
    ['in an emergency', 'decision.emergency-now'],
    ['on the label', 'labelling.in-alcohol'],
    ['when going home', 'aftercare.told'],
    ['when the patient is told', 'action.tell'],
    ['to a doctor', 'doctor.thy4'],
    ['to a laboratory', 'laboratory.got'],
  ])('is never written %s', (_, name) => {
    expect(shipped.texts.has(name)).toBe(true);
    expect(alwaysPlain(shipped.sources.flows)(name)).toBe(true);
  });

  it('may be written where findings are asked, and at supplies, decision, posting, receipt and action', () => {
    const isPlain = alwaysPlain(shipped.sources.flows);
    const before = ['new.breathing', 'new.sizes', 'ready.supplies', 'decision.sample'];
    const after = ['posting.ready', 'laboratory.received-for-worker', 'action.urgent'];
    expect([...before, ...after].filter(isPlain)).toEqual([]);
  });
});
