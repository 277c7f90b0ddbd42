import { unknownReference } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';

/**
 * Refuses a jurisdiction that no tax rule knows: at its first quote a slip would cost the customer's
 * time. Before the first tax rule of all anything goes.
 * @throws ProblemError 422 with the jurisdictions that are known
 */
export async function requireJurisdiction(
  { tx }: ActContext,
  jurisdiction: string | undefined,
): Promise<void> {
  if (jurisdiction === undefined) return;
  const rules = await tx.taxRule.findMany({
    distinct: ['jurisdiction'],
    orderBy: { jurisdiction: 'asc' },
    select: { jurisdiction: true },
  });
  const known = rules.map((rule) => rule.jurisdiction);
  if (known.length === 0 || known.includes(jurisdiction)) return;
  throw unknownReference(
    '/jurisdiction',
    `There is no tax rule for "${jurisdiction}". Known: ${known.join(', ')}.`,
  );
}
