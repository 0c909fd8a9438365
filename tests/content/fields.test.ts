import { describe, expect, it } from 'vitest';
import { assessedRows, fieldRows } from '../../src/content/fields.ts';
import { shipped } from '../support/shipped.ts';

describe('the fields and options of all questions', () => {
  it('are a contract: tools outside read them, so a change is seen and meant', () => {
    expect(fieldRows(shipped.flows)).toMatchSnapshot();
  });

  it('so are the ids of what assess answers', () => {
    expect(assessedRows()).toMatchSnapshot();
  });

  it('use the names and values of the findings where they ask for findings', () => {
    const rows = fieldRows(shipped.flows).filter((one) => one.flow === 'new');
    const options = (field: string): string[] =>
      rows.find((one) => one.field === field)?.options.map((one) => one.id) ?? [];
    expect(options('composition')).toEqual(['cystic', 'spongiform', 'mixed', 'solid', 'obscured', 'unknown']);
    expect(options('dangerSigns')).toEqual([
      'stridor',
      'rapid-growth',
      'hard-or-fixed',
      'voice-change',
      'neck-nodes',
      'swallowing',
      'none',
    ]);
    expect(options('tsh')).toEqual(['normal', 'low', 'high', 'unknown']);
    expect(options('scan')).toEqual(['hot', 'not-hot', 'unknown']);
  });
});
