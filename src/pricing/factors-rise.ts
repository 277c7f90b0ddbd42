import type { PartTiers } from './price-book.ts';
import { compare, ratioOf } from './ratio.ts';

/**
 * Whether a factor of the tiers is higher than the one of the step below. Then a second pound of
 * the same goods could cost more than the first, which a book with measured goods must not allow.
 */
export function factorsRise({ steps }: PartTiers): boolean {
  return steps.some((step, at) => {
    const below = steps[at - 1];
    return below !== undefined && compare(ratioOf(step.factor), ratioOf(below.factor)) > 0;
  });
}
