import { describe, expect, it } from 'vitest';
import { pricesOf } from '../../../src/auditing/jobs/prices-of.ts';
import { causesOfDifference } from '../../../src/auditing/rules/causes-of-difference.ts';
import type { HandGood, HandInputs } from '../../pricing/oracle/hand-inputs.ts';
import { capacitor, documentOf, inputsOf, jobOf, keysOf } from '../job-of.ts';

/*
 * What makes a charge dearer than the book has it is told with both figures, and nothing else is.
 */

const { labor } = keysOf(capacitor());
const { policy } = inputsOf([capacitor()]);

function pricedWith(inputs: Partial<HandInputs>, goods: readonly number[] = []) {
  const listed = goods.map(
    (packCostCents, at): HandGood => ({
      ...{ code: `good-${at + 1}`, name: `Good ${at + 1}`, unit: '[lb_av]', quantity: '1' },
      ...{ packCostCents, packQuantity: '1' },
    }),
  );
  const work = capacitor(listed.length > 0 ? { goods: listed } : undefined);
  const priced = pricesOf().stored(documentOf(jobOf({ work: [work], inputs })));
  if (priced === undefined) throw new Error('the job can be priced');
  return priced;
}

const sharing = (secondTaskDiscount: string) =>
  pricedWith({ policy: { ...policy, secondTaskDiscount } });

describe('the share off second tasks', () => {
  it.each([
    ['0.1', '0.2', ['10% off second tasks where the book has 20%']],
    ['0.2', '0.2', []],
    ['0.3', '0.2', []],
  ])('%s beside %s of the book', (stored, book, causes) => {
    expect(causesOfDifference(labor, sharing(stored), sharing(book))).toEqual(causes);
  });
});

it('what the book does not have at all has no cost beside it', () => {
  const key = labor.replace('labor:', 'good:').concat(':good-2');
  expect(causesOfDifference(key, pricedWith({}, [400, 500]), pricedWith({}, [400]))).toEqual([]);
});

describe('the cost of each good', () => {
  const key = (code: string) => labor.replace('labor:', 'good:').concat(':', code);

  it.each([
    ['good-1', []],
    ['good-2', ['a cost of $5.00 where the book has $3.00']],
    ['good-3', []],
  ])(
    '%s, of three that cost 4.00, 5.00 and 6.00 where the book has 4.00, 3.00 and 7.00',
    (code, causes) => {
      const [stored, book] = [pricedWith({}, [400, 500, 600]), pricedWith({}, [400, 300, 700])];
      expect(causesOfDifference(key(code), stored, book)).toEqual(causes);
    },
  );
});
