import { describe, expect, it } from 'vitest';
import { person, SmallLine } from '../support/world.ts';

/** A worker begins a patient and leaves the line before anybody else works at the site. */
function left(): SmallLine {
  const line = new SmallLine(person('w', 'worker'), person('d', 'doctor'), person('cccc', 'coordinator'));
  line.text('w', 'NEW');
  line.text('w', 'AK 1982 F');
  line.roster = line.roster.map((one) => (one.id === 'w' ? { ...one, state: 'suspended' as const } : one));
  return line;
}

const caseOf = (line: SmallLine) => [...line.cases.values()][0]!;

describe('what was meant for somebody who left the line', () => {
  it.each([['suspended'], ['stopped']] as const)(
    'a timer of a worker who is %s moves the case to a colleague',
    (state) => {
      const line = new SmallLine(person('w', 'worker'), person('d', 'doctor'), person('cccc', 'coordinator'));
      line.text('w', 'NEW');
      line.text('w', 'AK 1982 F');
      line.due('w', { kind: 'run', flow: 'review', caseId: caseOf(line).id, item: null, vars: {} });
      line.roster = [...line.roster.map((one) => (one.id === 'w' ? { ...one, state } : one)), person('v', 'worker')];
      line.heard('w');
      line.now += 8 * 86_400_000;
      line.settle();
      expect(caseOf(line).ownerId).toBe('v');
      expect(line.heard('w')).toEqual([]);
      expect(line.heard('v').join('\n')).toContain('AK: LOOK AGAIN is due');
    },
  );

  it('a day to look again is asked of whoever is at the site, also when its worker was erased', () => {
    const line = left();
    const { id } = caseOf(line);
    line.roster = [...line.roster.filter((one) => one.id !== 'w'), person('v', 'worker')];
    line.due(null, { kind: 'look-again', caseId: id, item: null, told: 0 }, id);
    line.settle();
    expect(line.heard('v').join('\n')).toContain('AK: LOOK AGAIN is due');
    expect(line.heard('cccc')).toEqual([]);
  });

  it('with nobody at the site the coordinators hear it each week, and not for ever', () => {
    const line = left();
    const { id } = caseOf(line);
    line.due(null, { kind: 'look-again', caseId: id, item: null, told: 0 }, id);
    for (let week = 0; week < 12; week += 1) {
      line.settle();
      line.now += 7 * 86_400_000;
    }
    const heard = line.heard('cccc').filter((one) => one.includes('it is time to look at the patient again'));
    expect(heard).toHaveLength(8);
    expect(heard[0]).toMatch(
      /^AK \(.*\): it is time to look at the patient again\. The last examination was on 4 MAR 2030/,
    );
  });
});
