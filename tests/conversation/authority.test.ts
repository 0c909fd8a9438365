import { describe, expect, it } from 'vitest';
import { authorities, lettingGo, proofFor, rosterActs } from '../../src/conversation/authority.ts';
import { registry } from '../../src/conversation/matters.ts';
import { shipped } from '../support/shipped.ts';

const { flows } = shipped;

describe('who may do what, and how it is proven', () => {
  it.each(authorities.filter((one) => one.at.includes('.')))('$action: the question $at prints digits', ({ at }) => {
    const [flow = '', state = ''] = at.split('.');
    const ask = flows.newest.get(flow)?.states.get(state)?.ask;
    expect(ask?.options.some((one) => one.secret)).toBe(true);
  });

  it.each(authorities.filter((one) => /^[A-Z]{2,}$/.test(one.at)))('$action: $at is a word of those who may', (row) => {
    expect(registry.commands.get(row.at)?.roles).toEqual(expect.arrayContaining([...row.by]));
  });

  it('a sender alone never lets go, files or lets somebody in', () => {
    const alone = authorities.filter((one) => one.proof === 'number').map((one) => one.action);
    expect(alone.filter((action) => /\b(end|file|release|open locked|add a|bring back|change)\b/.test(action))).toEqual(
      [],
    );
    expect(rosterActs.map((act) => proofFor(act, ['worker'])).every((proof) => proof === 'challenge')).toBe(true);
  });

  it.each(['add', 'change', 'restore'] as const)(
    '%s of a doctor, laboratory or coordinator takes two people',
    (act) => {
      for (const role of ['doctor', 'lab', 'coordinator']) {
        expect(proofFor(act, [role])).toBe('two-people');
        expect(proofFor(act, ['worker', role])).toBe('two-people');
      }
    },
  );

  it.each(['suspend', 'lost'] as const)('%s takes one person: it only takes away', (act) => {
    expect(proofFor(act, ['doctor'])).toBe('challenge');
  });

  it('what a lost phone asked or found is not what it let go', () => {
    expect(['answered', 'sos-raised', 'frozen', 'doctor-asked', 'noted'].filter((type) => lettingGo.has(type))).toEqual(
      [],
    );
    expect(['result-filed', 'doctor-answered', 'told', 'sos-over'].every((type) => lettingGo.has(type))).toBe(true);
  });
});
