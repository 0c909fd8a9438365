import { describe, expect, it } from 'vitest';
import { type AdverseEvent, FIRST_AID, firstAid, SOS_EVENTS } from '../../src/clinical/adverse-events.ts';

const EVERY = Object.keys(FIRST_AID) as AdverseEvent[];

describe('first aid', () => {
  it('offers seven choices, so that each has a digit from 1 to 8', () => {
    expect(SOS_EVENTS).toHaveLength(7);
  });

  it.each(EVERY)('%s alerts the doctor at once and names what to look for, what to do and its source', (event) => {
    const aid = firstAid(event);
    expect(aid.urgency).toBe('now');
    for (const list of [aid.signs, aid.steps, aid.escalateAtOnce]) expect(list.length).toBeGreaterThan(0);
    expect(aid.source).not.toBe('');
  });

  it.each(EVERY)('%s is looked at again at growing times', (event) => {
    const times = firstAid(event).recheckMinutes;
    expect([...times].sort((a, b) => a - b)).toEqual([...times]);
  });

  // Iliff et al., Anaesthesia 2022;77:82-95: agitation, anxiety, difficulty breathing and discomfort are the subtle signs.
  it.each(['agitated-or-anxious', 'trouble-breathing', 'discomfort-out-of-proportion', 'growing-swelling'])(
    'a swelling with %s goes to hospital',
    (sign) => {
      expect(firstAid('bleeding-or-swelling').escalateAtOnce).toContain(sign);
    },
  );

  // AHA/Red Cross 2019, presyncope: no improvement within 1 to 2 min.
  it('a faint is looked at again after 2 min at the latest', () => {
    expect(firstAid('faint').recheckMinutes[0]).toBeLessThanOrEqual(2);
  });

  it('a faint lies flat, trouble with breathing sits up', () => {
    expect(firstAid('faint').steps).toContain('lie-flat');
    expect(firstAid('faint').steps).not.toContain('sit-up');
    expect(firstAid('breathing').steps).toContain('sit-up');
    expect(firstAid('breathing').steps).not.toContain('lie-flat');
  });

  it('a changed voice allows no second puncture on that side', () => {
    expect(firstAid('voice-change').furtherSampling).toBe('none-this-side');
  });

  it('in every event of the patient during puncture the needle comes out or sampling stops first', () => {
    for (const event of SOS_EVENTS.filter((each) => each !== 'needle-stick')) {
      expect(['needle-out', 'stop-sampling']).toContain(firstAid(event).steps[0]);
    }
  });
});
