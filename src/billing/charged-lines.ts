import { type Cents, cents } from '../pricing/index.ts';
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
  const turned = turnedBy(lines, credited);
  return lines
    .filter(({ kind, aimedAt }) => kind !== 'tax' && aimedAt === null)
    .map((line) => ({
      line,
      leftCents: cents(line.amountCents + (turned.get(line.key) ?? 0)),
    }));
}

/** By the key of a charge: what is aimed at it, less what was credited of it. */
function turnedBy(
  lines: readonly BilledLine[],
  credited: readonly Credit[],
): ReadonlyMap<string, Cents> {
  const turned = new Map<string, Cents>();
  for (const { aimedAt, amountCents } of lines) {
    if (aimedAt !== null) turned.set(aimedAt, cents((turned.get(aimedAt) ?? 0) + amountCents));
  }
  for (const { key, amountCents } of credited) {
    turned.set(key, cents((turned.get(key) ?? 0) - amountCents));
  }
  return turned;
}
