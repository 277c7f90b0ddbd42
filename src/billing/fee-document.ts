import { type PricingInputs, pricingRulesets } from '../pricing/index.ts';
import type { BilledDocument } from './billed-document.ts';
import { documentOf } from './document-of.ts';

/**
 * The fee of a visit without an accepted quote, with what an agreement takes off it and its tax: what
 * every paper of these inputs says a no comes to.
 * @returns undefined when no fee is owed
 * @throws Error for inputs that cannot be priced, or by a ruleset that is not known
 */
export function feeDocument(
  inputs: PricingInputs,
  rulesetVersion: string,
): BilledDocument | undefined {
  if (!inputs.visitFee.chargeable) return undefined;
  const ruleset = Object.values(pricingRulesets).find(({ version }) => version === rulesetVersion);
  const result = ruleset?.priceQuote(inputs);
  if (result?.outcome !== 'priced') throw new Error(`no fee by ${rulesetVersion}`);
  return documentOf(
    'visit_fee',
    result.quote.decline.lines.map((line) => ({
      key: line.key,
      kind: line.kind,
      priceClass: line.class,
      description: line.description,
      aimedAt: 'aimedAt' in line ? line.aimedAt : null,
      findingIds: [],
      amountCents: line.amountCents,
    })),
  );
}
