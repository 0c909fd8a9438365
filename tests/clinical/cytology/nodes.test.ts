import { describe, expect, it } from 'vitest';
import { NODE_CODES, nodeAdvice } from '../../../src/clinical/cytology/nodes.ts';
import { parseResult } from '../../../src/clinical/cytology/parse.ts';
import { parseNodeResult, saysNodeCode } from '../../../src/clinical/cytology/parse-node.ts';

describe('reading the result of a lymph node', () => {
  it.each([
    ['L2 tuberculosis', 'L2', 'tuberculosis'],
    ['l 5, metastatic papillary', 'L5', 'metastatic papillary'],
    ['result: L1', 'L1', ''],
    ['L3: few atypical cells', 'L3', 'few atypical cells'],
    ['L4 3 slides seen', 'L4', '3 slides seen'],
    ['L-2', 'L2', ''],
  ])('%s is %s', (text, code, words) => {
    expect(parseNodeResult(text)).toMatchObject({ ok: true, code, words });
  });

  it.each([
    ['Thy2', 'thyroid-code'],
    ['B2 reactive', 'thyroid-code'],
    ['Bethesda II', 'thyroid-code'],
    ['L2 Thy2', 'thyroid-code'],
    ['2', 'bare-number'],
    ['5 malignant', 'bare-number'],
    ['II', 'bare-roman'],
    ['L IV', 'bare-roman'],
    ['level III reactive', 'bare-roman'],
    ['L4/5', 'two-codes'],
    ['L2 or 3', 'two-codes'],
    ['L4, L5', 'two-codes'],
    ['L2 not L3', 'two-codes'],
    ['L4 5', 'two-codes'],
    ['L6', 'no-such-code'],
    ['L0', 'no-such-code'],
    ['9', 'no-such-code'],
    ['reactive', 'unreadable'],
    ['lymphoma', 'unreadable'],
    ['', 'unreadable'],
  ])('%s is never guessed: %s', (text, ask) => {
    expect(parseNodeResult(text)).toMatchObject({ ok: false, ask });
  });

  it('no node category is read as one of the thyroid', () => {
    for (const code of NODE_CODES) {
      expect(parseResult(code).ok).toBe(false);
      expect(saysNodeCode(`${code} words`)).toBe(true);
    }
    for (const text of ['Thy2', 'lymphocytic thyroiditis', '4', 'LEFT side']) expect(saysNodeCode(text)).toBe(false);
  });
});

// Sydney 2020 actions: J Pathol Transl Med, jpatholtm.org 17073.
describe('what a lymph node asks for', () => {
  const plain = { infection: false, lymphoma: false, tumour: false };

  it.each([
    ['L1', 'repeat-or-tissue', 'routine'],
    ['L2', 'follow-up', 'routine'],
    ['L3', 'tissue-and-tests', 'today'],
    ['L4', 'tissue-and-tests', 'today'],
    ['L5', 'by-type', 'today'],
  ] as const)('%s: %s, the doctor %s', (code, next, acknowledge) => {
    expect(nodeAdvice(code, plain)).toMatchObject({ next, acknowledge });
  });

  it('a node that could not be read twice is not needled blindly a third time', () => {
    expect(nodeAdvice('L1', plain, 1)).toMatchObject({ next: 'tissue-after-second', latestDays: 14 });
    expect(nodeAdvice('L2', plain, 1)).toEqual(nodeAdvice('L2', plain));
    expect(nodeAdvice('L1', { ...plain, lymphoma: true }, 1)).toMatchObject({ next: 'tissue-and-tests' });
  });

  it('an infection sits in the benign category and is treated', () => {
    expect(nodeAdvice('L2', { ...plain, infection: true })).toMatchObject({
      next: 'treat-infection',
      acknowledge: 'today',
    });
  });

  it('a tumour that is named beside a benign or unreadable node asks for tissue today', () => {
    for (const code of ['L1', 'L2'] as const) {
      const advice = nodeAdvice(code, { ...plain, infection: true, tumour: true });
      expect(advice).toMatchObject({ next: 'tissue-and-tests', acknowledge: 'today' });
    }
    expect(nodeAdvice('L5', { ...plain, tumour: true })).toEqual(nodeAdvice('L5', plain));
  });

  it('lymphoma asks for tissue today, whatever the category', () => {
    for (const code of NODE_CODES) {
      const advice = nodeAdvice(code, { infection: true, lymphoma: true, tumour: true });
      expect(advice).toMatchObject({ next: 'tissue-and-tests', acknowledge: 'today' });
      expect(advice.latestDays).toBeLessThanOrEqual(nodeAdvice(code, plain).latestDays);
    }
  });
});
