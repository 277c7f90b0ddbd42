import type { TaxRule } from '../../pricing/index.ts';
import type { JobDocument } from './job-facts.ts';
import { timeOf } from './time-of.ts';

/**
 * Whether a tax falls on the visit fee and on all labor and access of a visit alike: on one document,
 * under one rule. What stands of labor only in place of a fee is taxed where it does, and nowhere
 * else, so that it makes no difference of which labor it stands.
 */
export function isTimeTaxedAsFee(
  [document, another]: readonly JobDocument[],
  { taxableClasses }: TaxRule,
): boolean {
  if (document === undefined || another !== undefined) return false;
  const classes = ['visit_fee', ...timeOf(document).map(({ line }) => line.priceClass)];
  return classes.every((each) => taxableClasses.some((taxable) => taxable === each));
}
