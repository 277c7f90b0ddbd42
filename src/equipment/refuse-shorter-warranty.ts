import { dayText } from '../platform/calendar-day.ts';
import type { Equipment } from '../platform/database/generated/client.ts';
import { ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';

const warranties = ['partsWarrantyUntil', 'compressorWarrantyUntil', 'laborWarrantyUntil'] as const;

/**
 * A technician records a warranty and prolongs it, but never shortens or erases one: that would
 * make the customer pay for a part by the word of who sells it. The office corrects it.
 * @throws ProblemError 403 for a technician
 */
export function refuseShorterWarranty(
  { actor }: Pick<ActContext, 'actor'>,
  before: Equipment,
  change: Partial<Record<(typeof warranties)[number], string | null | undefined>>,
): void {
  if (actor.role !== 'technician') return;
  for (const warranty of warranties) {
    const [until, wished] = [before[warranty], change[warranty]];
    if (until === null || wished === undefined) continue;
    if (wished !== null && wished >= dayText(until)) continue;
    const message =
      'A warranty on record is shortened or erased by the office, not by a technician.';
    throw new ProblemError('forbidden', message, {
      errors: [{ in: 'body', pointer: `/${warranty}`, code: 'warranty_shortened', message }],
    });
  }
}
