import { addCents, type Cents, cents, largestAtMost } from '../pricing/index.ts';
import { type ChargedBefore, centsOf, chargesFor } from './charged-for.ts';
import type { Credit } from './charged-lines.ts';

/** What of one document goes toward the right repair. */
export interface TowardTheRightOne {
  readonly credits: readonly Credit[];
  /** What further documents may be credited with; nothing once a line had to be cut. */
  readonly restCents: Cents;
}

/**
 * Credits what a document charged for work that did not cure: each charge all of whose findings
 * are among those, what is left of it, in the order of the lines. With their tax they come to no
 * more than the cap; the line that does not go in whole is cut to the last cent that does, and
 * nothing after it is credited. Where a cent more brings a cent of tax with it, the cap may be
 * missed by that cent.
 */
export function creditsTowardTheRightOne(
  document: ChargedBefore,
  uncuredFindingIds: readonly string[],
  capCents: number,
): TowardTheRightOne {
  const whole = chargesFor(document, uncuredFindingIds);
  const wholeCents = addCents(whole.map(({ amountCents }) => amountCents));
  const fits = (amountCents: number) =>
    centsOf(document, firstCents(whole, amountCents)) <= capCents;
  const amountCents = largestAtMost(wholeCents, fits);
  const credits = firstCents(whole, amountCents);
  const isCut = amountCents < wholeCents;
  return { credits, restCents: cents(isCut ? 0 : capCents - centsOf(document, credits)) };
}

/** The first lines of them that come to an amount, the last one cut to it. */
function firstCents(credits: readonly Credit[], amountCents: number): Credit[] {
  let left = amountCents;
  return credits
    .map((credit) => {
      const part = Math.min(credit.amountCents, left);
      left -= part;
      return { key: credit.key, amountCents: cents(part) };
    })
    .filter((credit) => credit.amountCents > 0);
}
