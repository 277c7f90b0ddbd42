import type { PointQuantity } from '../checks/check.ts';

/**
 * What readings come to in plain classes, such as a superheat that is low, fine or high. `usually`
 * says how often each class is met on a call whose cause has nothing to do with it (common practice,
 * no source; the shares add up to one): it ranks the next checks and never proves anything. `needs`
 * are the readings without which there is no class.
 */
export type SignWords<Value extends string = string> = {
  on: 'outdoor' | 'indoor' | 'any';
  needs: readonly PointQuantity[];
  orNeeds?: readonly PointQuantity[];
  usually: Readonly<Record<Value, number>>;
};
