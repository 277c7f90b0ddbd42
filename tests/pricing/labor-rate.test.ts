import { describe, expect, it } from 'vitest';
import {
  costPerHour,
  explainLaborRate,
  laborRateCents,
  rateInputsSchema,
  whyForCustomer,
  whyNodeInWords,
} from '../../src/pricing/index.ts';
import { handWorkedRates, workedRates, workedWage, workedWageRates } from './oracle/hand-worked.ts';

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

describe('the owner sees what the labor rate is made of', () => {
  const { why } = explainLaborRate(rateInputsSchema.parse(workedWageRates(workedWage, {})));

  it('down to each component of the wage', () => {
    // $32.00 x 2080 h, 7.65 % FICA (26 USC 3111), $42 FUTA on the first $7,000 (from memory of
    // 26 USC 3301 and 3302), the rest illustrative: 81,330.44.
    expect(why.owner.flatMap(whyNodeInWords)).toEqual([
      '- labor rate at 15% margin on price = 18,478,805/1,224 cents ~ $150.9706, rounded half up to $150.97',
      '  - cost per billable hour = 3,695,761/288 cents an hour ~ $128.3250 an hour',
      '    - burdened wage per year = $81,330.44',
      '      - wages per year = $66,560.00',
      '        - wage per hour: $32.00 an hour',
      '        - paid hours per year: 2,080 hours',
      '      - FICA = $5,091.84',
      '        - share of wages: 0.0765 (7.65%)',
      '        - wages per year = $66,560.00',
      '          - wage per hour: $32.00 an hour',
      '          - paid hours per year: 2,080 hours',
      '      - FUTA = $42.00',
      '        - share of wages: 0.006 (0.6%)',
      '        - the lower of wages and their limit = $7,000.00',
      '          - wages per year = $66,560.00',
      '            - wage per hour: $32.00 an hour',
      '            - paid hours per year: 2,080 hours',
      '          - on wages up to: $7,000.00',
      '      - State = $243.00',
      '        - share of wages: 0.027 (2.7%)',
      '        - the lower of wages and their limit = $9,000.00',
      '          - wages per year = $66,560.00',
      '            - wage per hour: $32.00 an hour',
      '            - paid hours per year: 2,080 hours',
      '          - on wages up to: $9,000.00',
      '      - Workers = $3,993.60',
      '        - share of wages: 0.06 (6%)',
      '        - wages per year = $66,560.00',
      '          - wage per hour: $32.00 an hour',
      '          - paid hours per year: 2,080 hours',
      '      - Health: $5,400.00',
      '    - truck per year: $14,000.00',
      '    - overhead of the company per year: $210,000.00',
      '    - technicians: 4',
      '    - available hours per year: 1,920 hours',
      '    - billable fraction: 0.60 (60%)',
      '  - margin: 0.15 (15%)',
    ]);
  });

  it('and the customer sees the rate alone', () => {
    expect(whyForCustomer(why)).toEqual({
      sentence: 'An hour of labor is $150.97.',
      steps: [{ node: 'input', name: 'labor rate', value: '15097', unit: 'cents_per_hour' }],
    });
  });

  it('a wage given as one sum stays one', () => {
    const rates = rateInputsSchema.parse(workedRates({}));
    const said = explainLaborRate(rates).why.owner.flatMap(whyNodeInWords);
    expect(said).toContain('    - burdened wage per year: $81,330.44');
  });
});
