import { describe, expect, it } from 'vitest';
import { registry } from '../../src/conversation/matters.ts';
import { person, SmallLine } from '../support/world.ts';

function begun(): SmallLine {
  const line = new SmallLine(person('w', 'worker'), person('d', 'doctor'), person('c', 'coordinator'));
  line.text('w', 'NEW');
  line.text('w', 'AK 1982 F');
  return line;
}

describe('a fault in a named piece is refused by name, never taken for an answer', () => {
  it("a reader's outcome that its question does not know", () => {
    const line = begun();
    const typo = () => ({ ok: true, value: { value: [], outcome: 'answerd' } }) as const;
    line.pieces = { ...registry, readers: new Map([...registry.readers, ['breathing', typo]]) };
    expect(() => line.text('w', '0')).toThrow(/^no transition answerd in new\.[a-z-]+, said by reader breathing$/);
  });

  it("a decision's outcome that its state does not treat", () => {
    const line = begun();
    const name = 'next-finding';
    const decision = { outcomes: ['nowhere'], decide: () => 'nowhere' };
    expect(registry.decisions.has(name)).toBe(true);
    line.pieces = { ...registry, decisions: new Map([...registry.decisions, [name, decision]]) };
    expect(() => line.text('w', '60')).toThrow(/^no transition nowhere in new\.[a-z-]+$/);
  });

  it('an event that cannot have happened to the case', () => {
    const line = begun();
    const [caseId] = [...line.cases.keys()];
    const list = registry.commands.get('LIST')!;
    const run: typeof list.run = (turn) => turn.record(caseId!, { type: 'labelled', specimen: 's1' });
    line.pieces = { ...registry, commands: new Map([...registry.commands, ['LIST', { ...list, run }]]) };
    expect(() => line.text('w', 'LIST')).toThrow('labelled may not happen: no-such-specimen');
  });

  it('a row for a person that names none', () => {
    const line = begun();
    const list = registry.commands.get('LIST')!;
    const run: typeof list.run = (turn) => turn.post(null, { kind: 'line-back', since: line.now });
    line.pieces = { ...registry, commands: new Map([...registry.commands, ['LIST', { ...list, run }]]) };
    line.text('w', 'LIST');
    expect(() => line.settle()).toThrow('line-back is for a person');
  });
});
