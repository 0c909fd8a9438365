import { describe, expect, it } from 'vitest';
import { registry } from '../../src/conversation/matters.ts';
import { person, SmallLine } from '../support/world.ts';

function tell(vars: Readonly<Record<string, string>>) {
  const line = new SmallLine(person('ada', 'worker'), person('tano', 'doctor'));
  line.due('ada', { kind: 'tell', key: 'common.no-doctor', caseId: null, item: null, vars, lane: 'notice' });
  return line.heard('ada');
}

describe('what is handed over with a text', () => {
  it('is refused when a value of the same name would be shown in its place', () => {
    expect(registry.strict).toBe(true);
    expect(() => tell({ voice: '+000 555 0199' })).toThrow('common.no-doctor: {voice} hides what it was given');
  });

  it('may be there under any name that the text does not show', () => {
    expect(tell({ site: 'another' })).toHaveLength(1);
  });

  it('is read by the values that are made of it', () => {
    expect([...registry.values.keys()].filter((name) => !registry.hiding.has(name)).sort()).toEqual([
      'awayWhy',
      'digits',
      'reached',
      'release',
      'sign',
      'slidesNamed',
      'stockAlarms',
      'stockSite',
    ]);
  });
});
