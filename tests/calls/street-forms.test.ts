import { describe, expect, it } from 'vitest';
import { streetForms } from '../../src/calls/street-forms.ts';

describe('a street is looked for in every form that people give it', () => {
  it.each([
    ['12 foxglove lane', ['12 foxglove lane', '12 foxglove ln']],
    ['12 foxglove ln', ['12 foxglove ln', '12 foxglove lane']],
    ['12 foxglove ln.', ['12 foxglove ln', '12 foxglove lane']],
    ['foxglove lane 12', ['12 foxglove lane', '12 foxglove ln']],
    ['12b foxglove', ['12b foxglove']],
    ['12 n main st', ['12 n main st', '12 north main street']],
    ['12 5th ave', ['12 5th ave', '12 5th avenue']],
    ['4411', ['4411']],
  ])('%s', (said, forms) => {
    expect(streetForms(said)).toEqual(forms);
  });
});
