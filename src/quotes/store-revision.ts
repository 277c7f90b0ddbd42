import type { Prisma } from '../platform/database/generated/client.ts';
import type { ActContext } from '../platform/http/route.ts';
import type { Line, PricedOption } from '../pricing/index.ts';
import type { Priced } from './price-options.ts';

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
    data: options.flatMap(({ id, option }) => option.lines.map((line) => lineRow(id, line))),
  });
  await act.tx.quoteState.create({
    data: { quoteId, revision: number, state: 'draft', changedAt: act.now },
  });
}

function optionRow(id: string, revisionId: string, option: PricedOption, at: number) {
  return {
    id,
    revisionId,
    position: at + 1,
    title: option.title,
    lineCount: option.lines.length,
    taxCents: option.taxCents,
    totalCents: option.totalCents,
  };
}

function lineRow(optionId: string, line: Line): Prisma.QuoteLineCreateManyInput {
  return {
    optionId,
    position: line.position,
    key: line.key,
    kind: line.kind,
    priceClass: line.class,
    code: line.code,
    description: line.description,
    findingIds: findingsOf(line),
    aimedAt: 'aimedAt' in line ? line.aimedAt : null,
    quantity: 'quantity' in line ? line.quantity : null,
    unitPriceCents: 'unitPriceCents' in line ? line.unitPriceCents : null,
    minutes: 'minutes' in line ? line.minutes : null,
    amountCents: line.amountCents,
    why: line.why as unknown as Prisma.InputJsonObject,
  };
}

function findingsOf(line: Line): string[] {
  if ('findingIds' in line) return [...line.findingIds];
  return 'findingId' in line ? [line.findingId] : [];
}
