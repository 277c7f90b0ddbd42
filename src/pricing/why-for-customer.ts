import type { Why } from './why.ts';

/** Reasons without the owner's part. */
export type CustomerWhy = Omit<Why, 'owner'>;

/** Why a line has its amount, as anyone but the owner may see it: the same steps, no cost. */
export function whyForCustomer({ sentence, steps }: Why): CustomerWhy {
  return { sentence, steps };
}
