import { describe, expect, it } from 'vitest';
import { shipped } from '../support/shipped.ts';
import { person, SmallLine } from '../support/world.ts';

/** 11:00 in the clinic in Nairobi; the doctor sits at a site two hours to the west. */
function lineOfTwoZones(): SmallLine {
  const line = new SmallLine(person('ada', 'worker'), person('tano', 'doctor', { siteId: 'kesu' }));
  const sites = shipped.programme.sites.map((one) => (one.id === 'kesu' ? { ...one, zone: 'Africa/Lagos' } : one));
  line.programme = { ...shipped.programme, sites };
  return line;
}

describe('a time of the day', () => {
  it('is told to a doctor by the clock of the doctor', () => {
    const line = lineOfTwoZones();
    line.text('ada', 'NEW AK 1982 F R 22x15x14 solid');
    line.text('ada', 'SOS');
    line.settle();
    line.text('ada', 'DOCTOR may she eat?');
    line.settle();
    const heard = line.heard('tano').join('\n');
    expect(heard).toContain('SOS NOW, since 09:00');
    expect(heard).not.toContain('11:00');
  });

  it('is told to the clinic by the clock of the clinic', () => {
    const line = lineOfTwoZones();
    line.text('ada', 'NEW AK 1982 F R 22x15x14 solid');
    line.text('ada', 'SOS');
    expect(line.heard('ada').join('\n')).not.toMatch(/\b09:\d\d/);
  });
});
