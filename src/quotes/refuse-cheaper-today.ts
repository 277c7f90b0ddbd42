import type { Tx } from '../platform/database/database.ts';
import type { QuoteRevision } from '../platform/database/generated/client.ts';
import { ProblemError } from '../platform/http/problem.ts';
import type { PricingInputs } from '../pricing/index.ts';
import { type AgreedVisit, agreementForPrice } from './agreement-for-price.ts';
import { priceAgain } from './price-again.ts';
import { warrantiesToday } from './warranties-today.ts';

/** An option that somebody says yes to, with what it was priced from. */
interface Chosen {
  visit: AgreedVisit;
  revision: Pick<QuoteRevision, 'priceBookVersionId' | 'rulesetVersion'>;
  inputs: PricingInputs;
  /** Where the option stands in its revision, from 1. */
  position: number;
  totalCents: number;
}

/**
 * Before a yes: a maker's warranty or a maintenance agreement that was put on record since the
 * price was made counts for the customer. Where either has ended since, the offer stands until it
 * ends itself.
 * @param today the local day
 * @throws ProblemError 409 when the same work would cost less today
 */
export async function refuseCheaperToday(
  tx: Pick<Tx, 'finding' | 'priceBookPart' | 'siteAgreement' | 'priceBookVersion'>,
  chosen: Chosen,
  today: string,
  now: Date,
): Promise<void> {
  const inputs = await inputsToday(tx, chosen, today, now);
  const again = priceAgain(inputs, chosen.revision.rulesetVersion);
  // What the rules price no more is nothing to say yes to, for instance a discount on a part that
  // has become free.
  const option = again.outcome === 'priced' ? again.quote.options[chosen.position - 1] : undefined;
  if (option !== undefined && option.totalCents >= chosen.totalCents) return;
  throw new ProblemError(
    'price-outdated',
    'By a warranty or an agreement on record today, this costs less than the quote says. Revise the quote.',
  );
}

async function inputsToday(
  tx: Parameters<typeof refuseCheaperToday>[0],
  { visit, revision, inputs }: Chosen,
  today: string,
  now: Date,
): Promise<PricingInputs> {
  const { agreement: _then, ...rest } = inputs;
  const agreement = await agreementForPrice(tx, visit, today, now);
  const isWarranted = await warrantiesToday(tx, today, inputs, revision.priceBookVersionId);
  return {
    ...rest,
    ...(agreement && { agreement }),
    options: inputs.options.map((option) => ({
      ...option,
      work: option.work.map((work) => ({
        ...work,
        parts: work.parts.map((part) => ({
          ...part,
          underManufacturerWarranty: isWarranted(work.findingId, part.code) === true,
        })),
      })),
    })),
  };
}
