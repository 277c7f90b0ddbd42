import { type PdfValue, StrictlyUnreadable } from './pdf-value.ts';

/**
 * Refuses a dictionary with any other entry than these. Of what no digest covers, nothing may be
 * there that we do not know the meaning of: some readers know more entries than the standard has.
 * @throws StrictlyUnreadable
 */
export function assertOnlyKeys(
  entries: ReadonlyMap<string, PdfValue>,
  known: ReadonlySet<string>,
  what: string,
): void {
  for (const key of entries.keys()) {
    if (!known.has(key)) throw new StrictlyUnreadable(`${what} has ${key}`);
  }
}
