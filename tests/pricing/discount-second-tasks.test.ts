import { describe, expect, it } from 'vitest';
import { plainCharge } from '../../src/pricing/charge.ts';
import { discountSecondTasks } from '../../src/pricing/discount-second-tasks.ts';
import { cents } from '../../src/pricing/index.ts';
import { wholeRatio } from '../../src/pricing/ratio.ts';

describe('the dearest labor of a visit stays whole', () => {
  it.each([0, 1, 2])('also where it is the only one, at %s cents', (amountCents) => {
    const only = laborAt(amountCents);
    expect(discountSecondTasks([only], '0.5')).toEqual([only]);
  });

  it('and half of the other is taken off, at two cents too', () => {
    const [dearest, second] = discountSecondTasks([laborAt(3), laborAt(2)], '0.5');
    expect(dearest?.discounts).toEqual([]);
    expect(second?.discounts.map((line) => line.amountCents)).toEqual([-1]);
  });
});

function laborAt(amountCents: number) {
  return plainCharge({
    line: {
      key: `labor:${amountCents}`,
      kind: 'labor',
      class: 'labor',
      code: 'replace_run_capacitor',
      description: 'Replace run capacitor',
      findingId: 'finding-capacitor',
      systemId: 'system-1',
      taskCode: 'replace_run_capacitor',
      minutes: 1,
      amountCents: cents(amountCents),
      why: { sentence: '', steps: [], owner: [] },
    },
    taxClass: 'labor',
    fixedBy: undefined,
    floor: wholeRatio(0),
  });
}
