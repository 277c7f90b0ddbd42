import { describe, expect, test } from 'vitest';
import { whyNoPrice } from '../../src/quotes/why-no-price.ts';
import { found } from './found-papers.ts';

function refusal(finding: (typeof found)[keyof typeof found], due: string[] = []): string {
  const { faultCode, taskCode, standing, reason, doubts, criteria } = finding;
  const verdict = { faultCode, standing, reason, doubts, criteria };
  return whyNoPrice({ faultCode, taskCode, verdict }, due);
}

describe('a refusal names first why a finding carries no price', () => {
  test('what speaks against it', () => {
    expect(refusal(found.soundCompressor)).toBe(
      'The evidence speaks against it: An insulation tester shows more than two megohms to ground.',
    );
  });

  test('that it is only supported where the work takes proof', () => {
    expect(refusal({ ...found.lowCharge, standing: 'supported' })).toBe(
      'This work needs a proven finding; it is supported so far.',
    );
  });

  test('that nothing settles it', () => {
    const unproven = {
      ...found.lowCharge,
      standing: 'unproven',
      reason: 'signs disagree',
    } as const;
    expect(refusal(unproven)).toBe('The finding is unproven: signs disagree.');
  });

  test('and then what is still due', () => {
    expect(refusal(found.lowCharge, ['The circuit was searched for leaks.'])).toBe(
      'The finding is proven. It carries no price until this is done: The circuit was searched for leaks.',
    );
  });
});
