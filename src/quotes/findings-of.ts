import type { WholeFinding } from '../evidence/index.ts';
import type { Tx } from '../platform/database/database.ts';
import type { PricingInputs } from '../pricing/index.ts';

/** The findings that any option of a stored price mends, in the order they were found. */
export async function findingsOf(
  tx: Pick<Tx, 'finding'>,
  inputs: PricingInputs,
): Promise<WholeFinding[]> {
  const ids = findingIdsOf(inputs.options);
  return tx.finding.findMany({
    where: { id: { in: ids } },
    orderBy: { id: 'asc' },
    include: { parts: true, override: true },
  });
}

/** The findings that any of some options mends, those that share a piece of work included. */
export function findingIdsOf(options: PricingInputs['options']): string[] {
  const work = options.flatMap((option) => option.work);
  return work.flatMap(({ findingId, alsoFindingIds = [] }) => [findingId, ...alsoFindingIds]);
}
