import type { ReadContext } from '../platform/http/route.ts';
import {
  companyUseTax,
  explainTotals,
  type OptionInputs,
  type PricedOption,
  type PricingInputs,
  type Stated,
  type Why,
  whyForCustomer,
} from '../pricing/index.ts';
import { mustPriceAgain } from './price-again.ts';
import { readQuote } from './read-quote.ts';
import type { QuoteWhy } from './why-contract.ts';

/**
 * Why each line of a revision costs what it costs, as whoever asks may see it: cost, margin and
 * tiers are for the owner. The lines are the stored ones; what was never stored of a price (how the
 * labor rate came about, what a no is made of) follows from its stored inputs.
 * @throws ProblemError 404 for a quote or revision that is not there, or not theirs
 */
export async function whyQuote(
  context: Pick<ReadContext, 'prisma' | 'actor' | 'now'>,
  quoteId: string,
  number?: number,
): Promise<{ body: QuoteWhy; etag: string }> {
  const { body, etag } = await readQuote(context.prisma, context, quoteId, number);
  const revision = await context.prisma.quoteRevision.findUniqueOrThrow({
    where: { quoteId_number: { quoteId, number: body.revision } },
  });
  const { inputs, quote } = mustPriceAgain(revision.inputs, revision.rulesetVersion);
  const isOwner = context.actor.role === 'owner';
  const shown = (why: Why) => (isOwner ? why : whyForCustomer(why));
  return {
    etag,
    body: {
      quoteId,
      number: body.number,
      revision: body.revision,
      rulesetVersion: body.rulesetVersion,
      laborRate: { cents: body.laborRateCents, why: shown(quote.laborRateWhy) },
      options: body.options.map((option, at) => {
        const asked = inputs.options[at];
        const priced = quote.options[at];
        if (asked === undefined || priced === undefined) {
          throw new Error('a stored option has its inputs');
        }
        return {
          position: option.position,
          title: option.title,
          ...explained(option, asked.work, inputs, priced.stated),
          ...(isOwner && useTaxOf(asked, priced, inputs)),
        };
      }),
      decline: explained(
        {
          totalCents: body.declineTotalCents,
          lines: quote.decline.lines.map((line) => ({ ...line, why: shown(line.why) })),
        },
        [],
        inputs,
        inputs.tax.mode,
      ),
    },
  };
}

type ExplainedLine = QuoteWhy['decline']['lines'][number];
type Summed = Parameters<typeof explainTotals>[0][number];

function explained(
  { lines, totalCents }: { lines: readonly (ExplainedLine & Summed)[]; totalCents: number },
  work: OptionInputs['work'],
  { tax }: PricingInputs,
  stated: Stated,
): QuoteWhy['decline'] {
  return {
    lines: lines.map(({ position, key, description, amountCents, why }) => ({
      position,
      key,
      description,
      amountCents,
      why,
    })),
    totalCents,
    ...explainTotals(lines, work, tax, stated),
  };
}

/** Only under a lump sum: where prices are stated separately, the customer pays the tax. */
function useTaxOf(
  asked: OptionInputs,
  { stated }: PricedOption,
  { tax }: PricingInputs,
): Pick<QuoteWhy['options'][number], 'companyUseTax'> {
  return stated === 'lump_sum' ? { companyUseTax: companyUseTax(asked, tax) } : {};
}
