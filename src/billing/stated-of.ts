import type { Stated } from '../pricing/index.ts';
import { type PricedFrom, pricedAgain } from './priced-again.ts';

/**
 * Whether the paper of an accepted option stated prices line by line or one sum, by pricing it
 * again from its stored inputs.
 * @throws Error when a stored price cannot be computed again
 */
export function statedOf(accepted: PricedFrom): Stated {
  return pricedAgain(accepted).option.stated;
}
