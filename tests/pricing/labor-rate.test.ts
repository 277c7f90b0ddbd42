import { describe, expect, it } from 'vitest';
import { costPerHour, laborRateCents, rateInputsSchema } from '../../src/pricing/index.ts';
import { handWorkedRates, workedRates } from './oracle/hand-worked.ts';

describe('the labor rate covers what an hour costs and leaves the margin on price', () => {
  it.each(handWorkedRates)('$name', ({ rates, rateCents }) => {
    expect(laborRateCents(rateInputsSchema.parse(rates))).toBe(rateCents);
  });

  it('cost per hour stays exact: 128.35 in the worked invoice', () => {
    const rates = rateInputsSchema.parse(workedRates({ annualOverheadCents: 21011504 }));
    const cost = costPerHour(rates);
    expect(cost.numerator).toBe(12835n * cost.denominator);
  });
});
