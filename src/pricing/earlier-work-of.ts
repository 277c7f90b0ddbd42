import { cents } from './cents.ts';
import type { EarlierWork } from './pricing-inputs.ts';

/** A line of a document as it was priced, or as it was stored with its key. */
export interface AcceptedLine {
  readonly key: string;
  readonly kind: string;
  readonly description: string;
  readonly minutes?: number | null;
  readonly amountCents: number;
}

/**
 * What a change order has to know of the documents accepted before it on the same visit.
 *
 * The minutes of one access are added up over the documents: a change order charges only the
 * minutes that were missing, so the second one must see the first one's minutes on top of the
 * quote's.
 */
export function earlierWorkOf(documents: readonly (readonly AcceptedLine[])[]): EarlierWork {
  const lines = documents.flat();
  const minutesByKey = new Map<string, number>();
  for (const { key, kind, minutes } of lines) {
    if (kind === 'access') minutesByKey.set(key, (minutesByKey.get(key) ?? 0) + (minutes ?? 0));
  }
  return {
    access: [...minutesByKey].map(([key, minutes]) => ({ ...placeOf(key), minutes })),
    labor: lines
      .filter(({ kind, amountCents }) => kind === 'labor' && amountCents > 0)
      .map(({ description, amountCents }) => ({
        taskName: description,
        amountCents: cents(amountCents),
      })),
  };
}

/** Codes and ids hold no colon, so the key of an access line takes itself apart. */
function placeOf(key: string): { systemId: string; accessGroup: string } {
  const [, systemId = '', accessGroup = ''] = key.split(':');
  return { systemId, accessGroup };
}
