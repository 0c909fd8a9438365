import { describe, expect, it } from 'vitest';
import { roles } from '../../src/case/roles.ts';
import { fluidWays } from '../../src/clinical/fluid.ts';
import { policyIds } from '../../src/clinical/policies/policy.ts';
import { laboratoryStains } from '../../src/clinical/supplies.ts';
import { problemLine } from '../../src/content/problem.ts';
import { alcoholWays, assays } from '../../src/conversation/programme.ts';
import { answerParts, readAnswers } from '../../src/setup/answers.ts';
import { changedExample, exampleText } from './answers-fixture.ts';

const faultsOf = (text: string): readonly string[] => readAnswers('setup.yaml', text).problems.map(problemLine);
const lineOf = (piece: string): number => exampleText.slice(0, exampleText.indexOf(piece)).split('\n').length;

describe('the example that is copied', () => {
  it('has no fault', () => {
    expect(faultsOf(exampleText)).toEqual([]);
  });

  it('has every key, with a comment above it or above the entry in front', () => {
    const lines = exampleText.split('\n');
    const keyLine = (key: string): number => lines.findIndex((line) => new RegExp(`^[\\s#-]*${key}:`).test(line));
    const keys = Object.values(answerParts).flatMap((part) => Object.keys(part.shape));
    expect(keys.filter((key) => keyLine(key) < 0 && !exampleText.includes(`${key}: `))).toEqual([]);
    const silent = Object.keys(answerParts.laboratory.shape).filter(
      (key) => !/^\s*#/.test(lines[keyLine(key) - 1] ?? ''),
    );
    expect(silent).toEqual([]);
  });

  it('names every value that may be chosen', () => {
    const comments = exampleText
      .split('\n')
      .filter((line) => /^\s*#/.test(line))
      .join(' ');
    const values = [...policyIds, ...laboratoryStains, ...alcoholWays, ...fluidWays, ...assays, ...roles];
    const unnamed = [...values, 'Thy', 'Bethesda', 'TIR', 'kannel', 'generic'].filter(
      (value) => !new RegExp(`\\b${value}\\b`).test(comments),
    );
    expect(unnamed).toEqual([]);
  });
});

describe('a file of answers is refused with the line of', () => {
  it.each([
    ['a clinic that stands twice', '- id: kesu', '- id: oruma', '- id: kesu', 'oruma stands twice'],
    ['a misspelt key', 'guidance: true', 'guidanse: true', 'guidance: true', 'did you mean guidance?'],
    ['a value that nobody knows', 'alcohol: coat', 'alcohol: rum', 'alcohol: coat', 'use one of: stay-in-alcohol'],
    [
      'a number without its country',
      '"sms:+000555010001"',
      '"sms:0555010001"',
      '"sms:+000555010001"',
      'the number with its country',
    ],
    ['a worker of no clinic', '    clinic: oruma\n', '', '- name: Ada Lumo', 'add clinic: with one of: oruma, kesu'],
    ['a language that is not listed', '    language: en\n', '    language: sw\n', '    language: en', 'no language sw'],
    [
      'a key beside the data it opens',
      'keyFile: /var/lib/neckline-key/line.key',
      'keyFile: /var/lib/neckline/line.key',
      'keyFile: /var/lib/neckline-key',
      'stands in the data folder',
    ],
    [
      'a voice number that rings nowhere',
      '"+000555010100"',
      '"bench:voice"',
      '"+000555010100"',
      'a number that can be dialled',
    ],
  ])('%s', (_what, piece, by, where, said) => {
    const faults = faultsOf(changedExample(piece, by));
    expect(faults).toHaveLength(by.includes('guidanse') ? 2 : 1);
    expect(faults.join('\n')).toContain(`setup.yaml:${lineOf(where)} `);
    expect(faults.join('\n')).toContain(said);
  });

  it.each(['', '- a\n', 'words', 'people: 7\n', 'people:\n  - 7\n', 'programme: [\n', 'people: &a [*a]\n', '{}'])(
    'a file that says %j: faults, never a throw',
    (text) => {
      expect(faultsOf(text).length).toBeGreaterThan(0);
    },
  );

  it('a person among others, while what is wrong with those behind is found too', () => {
    const text = exampleText
      .replace('"sms:+000555010001"', '"sms:0555010001"')
      .replace('roles: [lab]\n    laboratory: mora', 'roles: [lab]');
    expect(faultsOf(text)).toEqual([
      expect.stringMatching(/ people\.0\.addresses\.0 .*the number with its country/),
      expect.stringMatching(
        new RegExp(`^setup.yaml:${lineOf('- name: Sia Tor')} {2}people\\.5 {2}is of no laboratory`),
      ),
    ]);
  });

  it('an address of a link that there is not', () => {
    const text = exampleText.replace(/^telegram:\n {2}tokenFile.*\n/m, '');
    expect(faultsOf(text)).toEqual([expect.stringContaining('there is no telegram link')]);
  });

  it('a programme that nobody can reach', () => {
    expect(
      faultsOf(exampleText.replace(/^sms:\n(?: {2}.*\n)+/m, '').replace(/^telegram:\n {2}.*\n/m, '')).join(),
    ).toMatch(/there is no link {2}add sms: or telegram:/);
  });
});
