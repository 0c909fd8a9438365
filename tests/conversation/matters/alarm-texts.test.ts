import { describe, expect, it } from 'vitest';
import { loadContent } from '../../../src/content/load.ts';
import { registry } from '../../../src/conversation/matters.ts';
import type { TextKey } from '../../../src/generated/text-keys.ts';
import { screensOf } from '../../../src/text/screens.ts';
import { countSegments } from '../../../src/text/segments.ts';

const { texts, sources } = loadContent();

/** As long as a programme may have them: design section 9 and the rules of a screen. */
const longest: Readonly<Record<string, string>> = {
  tag: 'AKO48',
  lead: 'AKO48: ',
  leadCode: 'AKO48 4829 1354: ',
  leadTag: 'AKO48 ',
  tagCode: 'AKO48 4829 1354',
  hospital: 'Saint Martha Regional Referral Hosp.',
  voice: '+000 555 010 099',
  sosSite: 'KESUMBO VALLEY CLINIC 24',
  reached: 'Dr Ambalavanar Tanokwebe and 9 more',
  who: 'Dr Ambalavanar Tanokwebe',
  doctor: 'Dr Ambalavanar Tanokwebe',
  going: '471800',
  well: '510200',
  now: '11:02',
  said: 'something quite long...',
  words: 'x'.repeat(73),
  count: '99',
  from: '+000555010099999',
};

/** First aid and alarms, all of what the worker, the doctors and the coordinators read of one. */
const alarmKeys = sources.locales
  .find((one) => one.tag === 'en')!
  .files.flatMap((file) => [...file.texts.keys()].map((key) => `${file.name}.${key.replace(/_(one|other)$/, '')}`))
  .filter((key) =>
    /^(sos|cry)\.|^decision\.emergency|^common\.(stranger|strangers-sos|no-doctor|ladder-spent-now|copies|not-practised)/.test(
      key,
    ),
  )
  .filter(
    (key) => !/^sos\.(stick-advice|doctor-said|nobody-named|no-patient|and-others)$|^common\.strangers-sos$/.test(key),
  );

describe('a text of first aid or of an alarm', () => {
  it.each([...new Set(alarmKeys)])(
    '%s is one segment a screen with the longest names that a programme may have',
    (key) => {
      const text = texts.render('en', key as TextKey, (name) => longest[name] ?? registry.samples.get(name) ?? '');
      for (const screen of screensOf(text)) {
        const { segments, units, encoding } = countSegments(screen);
        expect([screen, units, segments, encoding]).toEqual([screen, units, 1, 'GSM-7']);
      }
    },
  );

  it('is there in number', () => {
    expect(longest.hospital).toHaveLength(36);
    expect(longest.voice).toHaveLength(16);
    expect(longest.sosSite).toHaveLength(24);
    expect(alarmKeys.length).toBeGreaterThan(35);
  });

  it('never says that a doctor was alerted', () => {
    const all = sources.locales.flatMap((locale) => locale.files.flatMap((file) => [...file.texts.values()]));
    expect(all.filter((text) => /doctor (is |was )?alerted/i.test(text))).toEqual([]);
  });
});
