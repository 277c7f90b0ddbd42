import { addCents, type Cents, cents } from '../pricing/index.ts';
import type { BilledLine } from './billed-document.ts';

/** A charge with what is left of it. */
export interface ChargedLine {
  readonly line: BilledLine;
  /** After what is aimed at it and what was credited of it. */
  readonly leftCents: Cents;
}

/** Some of a charge given back: above zero, at most what is left of the charge. */
export interface Credit {
  readonly key: string;
  readonly amountCents: Cents;
}

/**
 * The charges of a document: every line that is neither tax nor aimed at another one, each with what
 * stands of it.
 */
export function chargedLines(
  lines: readonly BilledLine[],
  credited: readonly Credit[] = [],
): ChargedLine[] {
  return lines
    .filter(({ kind, aimedAt }) => kind !== 'tax' && aimedAt === null)
    .map((line) => {
      const aimed = lines.filter(({ aimedAt }) => aimedAt === line.key);
      const given = credited.filter(({ key }) => key === line.key);
      const leftCents = addCents([
        line.amountCents,
        ...aimed.map(({ amountCents }) => amountCents),
        ...given.map(({ amountCents }) => cents(-amountCents)),
      ]);
      return { line, leftCents };
    });
}
