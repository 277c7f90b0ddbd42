import type { Prisma } from '../platform/database/generated/client.ts';
import type { Line, PricedOption } from '../pricing/index.ts';

/** The row of a priced option. */
export function optionRow(id: string, revisionId: string, option: PricedOption, at: number) {
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

/** The row of a priced line. */
export function lineRow(optionId: string, line: Line) {
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
  } satisfies Prisma.QuoteLineCreateManyInput;
}

function findingsOf(line: Line): string[] {
  if ('findingIds' in line) return [...line.findingIds];
  return 'findingId' in line ? [line.findingId] : [];
}
