import type { Prisma } from '../platform/database/generated/client.ts';
import type { Line, PricedOption, WorkItem } from '../pricing/index.ts';

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

/** The row of a priced line; `work` is what its option was priced from. */
export function lineRow(optionId: string, line: Line, work: readonly WorkItem[]) {
  return {
    optionId,
    position: line.position,
    key: line.key,
    kind: line.kind,
    priceClass: line.class,
    code: line.code,
    description: line.description,
    findingIds: findingsOf(line, work),
    aimedAt: 'aimedAt' in line ? line.aimedAt : null,
    quantity: 'quantity' in line ? line.quantity : null,
    unitPriceCents: 'unitPriceCents' in line ? line.unitPriceCents : null,
    minutes: 'minutes' in line ? line.minutes : null,
    measured: 'measured' in line ? line.measured : null,
    unit: 'unit' in line ? line.unit : null,
    amountCents: line.amountCents,
    why: line.why as unknown as Prisma.InputJsonObject,
  } satisfies Prisma.QuoteLineCreateManyInput;
}

/** Every finding that a line's work mends, those that share the work included. */
function findingsOf(line: Line, work: readonly WorkItem[]): string[] {
  const named =
    'findingIds' in line ? line.findingIds : 'findingId' in line ? [line.findingId] : [];
  return named.flatMap((id) => [
    id,
    ...(work.find(({ findingId }) => findingId === id)?.alsoFindingIds ?? []),
  ]);
}
