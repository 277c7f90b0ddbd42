import type { Policy } from './price-book.ts';

/**
 * For how many days the labor of a repair is warranted: the policy's, or 30 where it says nothing,
 * because the same fault within thirty days is a callback.
 */
export function laborWarrantyDays({ laborWarrantyDays: days }: Policy): number {
  return days ?? 30;
}
