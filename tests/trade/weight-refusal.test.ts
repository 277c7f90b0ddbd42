import { describe, expect, it } from 'vitest';
import { type Nameplate, weightRefusal } from '../../src/trade/index.ts';

const LB = '[lb_av]';
const OZ = '[oz_av]';

// Common practice, no source: nobody adds more than twice what the factory put in. By hand:
// 104 oz is 6.5 lb, so the most is 208 oz or 13 lb.
describe('a weight of refrigerant beyond twice the factory charge', () => {
  const plate: Nameplate = { factoryChargeOz: 104 };

  it.each([
    { name: 'a top-up', weight: 2.5, unit: LB, refused: false },
    { name: 'a whole charge after a leak', weight: 6.5, unit: LB, refused: false },
    { name: 'a whole charge with a long line set', weight: 9, unit: LB, refused: false },
    { name: 'twice the charge to the ounce', weight: 208, unit: OZ, refused: false },
    { name: 'twice the charge in pounds', weight: 13, unit: LB, refused: false },
    { name: 'a little more than twice, in ounces', weight: 208.001, unit: OZ, refused: true },
    { name: 'a little more than twice, in pounds', weight: 13.001, unit: LB, refused: true },
    { name: '25 typed for 2.5', weight: 25, unit: LB, refused: true },
    { name: 'ounces typed as pounds', weight: 36, unit: LB, refused: true },
    { name: 'the same 36 in ounces', weight: 36, unit: OZ, refused: false },
  ] as const)('$name: refused $refused', ({ weight, unit, refused }) => {
    expect(weightRefusal(plate, { weight, unit }) !== undefined).toBe(refused);
  });

  it('is refused in a sentence that says what to look at', () => {
    expect(weightRefusal(plate, { weight: 25, unit: LB })).toBe(
      '25 lb is more than twice the factory charge of 104 oz on the nameplate: check the decimal point and the unit.',
    );
  });

  it('is not judged while the factory charge is not on record', () => {
    expect(weightRefusal({}, { weight: 25, unit: LB })).toBeUndefined();
  });
});
