import type { ActContext } from '../platform/http/route.ts';
import type { Priced } from './price-options.ts';
import { lineRow, optionRow } from './revision-rows.ts';

/**
 * Stores a revision with its options and lines, all insert-only, and its state as a draft. The
 * database checks at commit that every option has the lines and the total it says.
 */
export async function storeRevision(
  act: ActContext,
  quoteId: string,
  number: number,
  { inputs, quote, rulesetVersion, bookId }: Priced,
): Promise<void> {
  const revisionId = act.newId();
  await act.tx.quoteRevision.create({
    data: {
      id: revisionId,
      quoteId,
      number,
      inputs,
      rulesetVersion,
      priceBookVersionId: bookId,
      laborRateCents: quote.laborRateCents,
      declineTotalCents: quote.decline.totalCents,
      optionCount: quote.options.length,
      createdAt: act.now,
      createdById: act.actor.id,
    },
  });
  const options = quote.options.map((option, at) => ({ id: act.newId(), option, at }));
  await act.tx.quoteOption.createMany({
    data: options.map(({ id, option, at }) => optionRow(id, revisionId, option, at)),
  });
  await act.tx.quoteLine.createMany({
    data: options.flatMap(({ id, option, at }) => {
      const work = inputs.options[at]?.work ?? [];
      return option.lines.map((line) => lineRow(id, line, work));
    }),
  });
  await act.tx.quoteState.create({
    data: { quoteId, revision: number, state: 'draft', changedAt: act.now },
  });
}
