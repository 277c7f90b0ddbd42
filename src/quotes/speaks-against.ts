import type { Criterion } from '../trade/index.ts';

/** The strongest sign against a fault; undefined when none is met. */
export function speaksAgainst(criteria: readonly Criterion[]): Criterion | undefined {
  const met = criteria.filter(
    ({ direction, outcome }) => direction === 'against' && outcome === 'met',
  );
  return met.find(({ weight }) => weight === 'decisive') ?? met[0];
}
