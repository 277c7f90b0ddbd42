import { canonicalJson } from '../platform/canonical-json.ts';
import type { Tx } from '../platform/database/database.ts';
import { ProblemError } from '../platform/http/problem.ts';
import type { PricingInputs } from '../pricing/index.ts';
import { type QuotePlace, type VisitTerms, visitTerms } from './visit-terms.ts';

/**
 * Before a yes: what was accepted at this visit since the price was made changes what is charged
 * already, and work that has come back under warranty since is free. What the customer was offered
 * for nothing stands until the offer ends, even where the warranty ends before it.
 * @param today the local day
 * @throws ProblemError 409
 */
export async function refuseChangedTerms(
  tx: Tx,
  place: QuotePlace,
  inputs: PricingInputs,
  today: string,
): Promise<void> {
  const terms = await visitTerms(tx, place, today);
  const feeFellAway = inputs.visitFee.chargeable && !terms.visitFee.chargeable;
  const becameFree = workOf(inputs).some((work) => !work.recall && isRecalled(work, terms));
  if (earlierWorkStands(inputs, terms) && !feeFellAway && !becameFree) return;
  throw new ProblemError(
    'price-outdated',
    'Other work of this visit was accepted, or work of ours came back, since this was priced. Revise the quote.',
  );
}

/** Whether a price would take the same from its visit today: before it is issued, to the letter. */
export function termsStand(inputs: PricingInputs, terms: VisitTerms): boolean {
  return (
    canonicalJson(inputs.visitFee) === canonicalJson(terms.visitFee) &&
    earlierWorkStands(inputs, terms) &&
    workOf(inputs).every((work) => work.recall === isRecalled(work, terms))
  );
}

function earlierWorkStands({ earlierWork }: PricingInputs, terms: VisitTerms): boolean {
  return canonicalJson(earlierWork ?? null) === canonicalJson(terms.earlierWork ?? null);
}

type Work = PricingInputs['options'][number]['work'][number];

function workOf({ options }: PricingInputs): Work[] {
  return options.flatMap(({ work }) => work);
}

function isRecalled({ findingId, alsoFindingIds = [] }: Work, { recalled }: VisitTerms): boolean {
  return [findingId, ...alsoFindingIds].some((id) => recalled.has(id));
}
