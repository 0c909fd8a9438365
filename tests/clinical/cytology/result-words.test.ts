import { describe, expect, it } from 'vitest';
import { infectionsNamed, namedIn, typesThatSteer } from '../../../src/clinical/cytology/result-words.ts';
import { foldWord } from '../../../src/text/fold.ts';
import { resultVocabulary } from '../../support/result-vocabulary.ts';

const read = (words: string) => namedIn(foldWord(words), resultVocabulary);

describe('type words of a laboratory steer the advice', () => {
  it.each([
    ['large B-cell lymphoma', ['lymphoma']],
    ['suspicious of lymphoma, core please', ['lymphoma']],
    ['Non-Hodgkin type', ['lymphoma']],
    ['NHL', ['lymphoma']],
    ['Anaplastic carcinoma', ['anaplastic']],
    ['undifferentiated carcinoma', ['anaplastic']],
    ['consistent with medullary carcinoma (calcitonin positive, no amyloid)', ['medullary']],
    ['medullary, not papillary', ['medullary']],
    ['no amyloid, medullary carcinoma', ['medullary']],
    ['metastatic renal carcinoma', ['metastasis']],
    ['metastasis, kidney', ['metastasis']],
    ['anaplastic or lymphoma', ['anaplastic', 'lymphoma']],
    ['papillary carcinoma with lymph node metastasis', []],
    ['medullary with node metastases', ['medullary']],
    ['papillary', []],
    ['lymphocytic thyroiditis', []],
    ['poorly differentiated', []],
    ['', []],
  ])('"%s" steers as %j', (words, types) => {
    expect(typesThatSteer(read(words), 'Thy5')).toEqual(types);
  });

  it.each([
    'no lymphoma',
    'no evidence of lymphoma, anaplastic or metastasis',
    'exclude medullary',
    'to rule out medullary',
    'medullary?',
    '? lymphoma',
    'lymphoma cannot be excluded',
    'lymphoma not excluded',
    'anaplastic unlikely',
    'possible metastasis',
    'lymphoma vs thyroiditis',
    'papillary, DD medullary',
    'history of lymphoma',
    'no lymphoma. Lymphoma excluded by flow',
    'medullary suspected, but medullary excluded by calcitonin',
  ])('"%s" steers nothing: it is denied, doubted or past', (words) => {
    expect(typesThatSteer(read(words), 'Thy4')).toEqual([]);
  });

  it('a turn of the sentence ends a denial', () => {
    expect(typesThatSteer(read('no lymphoma but anaplastic carcinoma'), 'Thy2')).toEqual(['anaplastic']);
    expect(typesThatSteer(read('no lymphoma; anaplastic carcinoma'), 'Thy2')).toEqual(['anaplastic']);
  });
});

describe('a cancer that is named beside a category which is none', () => {
  it.each([
    ['papillary', 'Thy1c'],
    ['cyst fluid, papillary fragments', 'Thy1c'],
    ['PTC', 'Thy1'],
    ['suspicious of malignancy', 'Thy2'],
    ['few malignant cells', 'Thy1c'],
    ['squamous cell carcinoma', 'Thy3f'],
    ['papillary carcinoma, node metastasis', 'L2'],
  ])('"%s" beside %s steers', (words, category) => {
    expect(typesThatSteer(read(words), category)).toEqual(['cancer']);
  });

  it.each([
    'no malignant cells',
    'negative for malignancy',
    'nil malignant',
    'papillary?',
    'malignancy cannot be excluded',
    'insufficient for malignancy',
    'risk of malignancy 5 percent',
    'follicular adenoma or carcinoma',
    'papillary hyperplasia',
    'few follicular cells',
    'history of breast cancer',
    'macrophages',
  ])('"%s" steers nothing', (words) => {
    expect(typesThatSteer(read(words), 'Thy1c')).toEqual([]);
  });

  it('beside Thy4, Thy5 and a node that is not benign it adds nothing: they say so themselves', () => {
    for (const category of ['Thy4', 'Thy5', 'L3', 'L5'])
      expect(typesThatSteer(read('papillary carcinoma'), category)).toEqual([]);
  });

  it('a type that has its own way leads', () => {
    expect(typesThatSteer(read('lymphoma beside papillary carcinoma'), 'Thy1c')).toEqual(['lymphoma']);
  });
});

describe('infections in a lymph node', () => {
  it.each([
    ['tuberculosis', ['tuberculosis']],
    ['TB, AFB seen', ['tuberculosis']],
    ['granulomatous, caseous', ['granuloma']],
    ['granuloma, AFB not seen', ['granuloma']],
    ['?TB', ['tuberculosis']],
    ['tuberculosis not excluded', ['tuberculosis']],
    ['reactive, no granuloma', []],
    ['reactive', []],
  ])('"%s" names %j, doubted ones too', (words, infections) => {
    expect(infectionsNamed(read(words))).toEqual(infections);
  });

  it('a denial is known as said: nobody is asked again', () => {
    expect(read('reactive, no granuloma').denied).toEqual(['granuloma']);
    expect(read('reactive')).toEqual({ found: [], doubted: [], denied: [] });
  });
});
