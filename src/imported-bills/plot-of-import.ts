import { createMeasureText, type Plot, plotBands } from '../documents/index.ts';
import type { ReadContext } from '../platform/http/route.ts';
import { bookInForce } from '../pricebook/index.ts';
import { taskWords } from '../trade/index.ts';
import { billContentSchema, keptJudgementSchema } from './contract.ts';
import { judgeAnew } from './judge-anew.ts';

/** A picture has room for so many kinds of work; the most expensive mistakes come first. */
const ROWS_MAX = 15;

/**
 * What the bills of a file charged for each kind of work, beside what it may come to at most. Bills
 * without a fair price are not in it.
 */
export async function plotOfImport(
  context: Pick<ReadContext, 'prisma' | 'sql' | 'now'>,
  importId: string,
): Promise<Plot> {
  await judgeAnew(context, importId);
  const { policy } = await bookInForce(context.prisma, context.now);
  const bills = await context.prisma.importedBill.findMany({
    where: { importId },
    orderBy: { row: 'asc' },
  });
  const works = new Map<string, Work>();
  for (const { content, judgement, chargedCents, overCents } of bills) {
    const { fair } = keptJudgementSchema.parse(judgement);
    if (fair === null) continue;
    const name = fair.taskCodes.map(taskName).join(' + ') || 'Visit only';
    const work = works.get(name) ?? { fairCents: 0, chargedCents: [], overCents: 0 };
    // Where no tax of ours is in the fair price, the bill's own is left out, too.
    const { taxCents } = billContentSchema.parse(content);
    const ownTaxCents = fair.taxCents > 0 ? 0 : (taxCents ?? 0);
    works.set(name, {
      fairCents: Math.max(work.fairCents, fair.totalCents),
      chargedCents: [...work.chargedCents, chargedCents - ownTaxCents],
      overCents: work.overCents + overCents,
    });
  }
  // The edge of a band that is drawn; what is too much is counted exactly, by the rules.
  const tolerance = Number(policy.fairBandTolerance);
  const rows = [...works]
    .sort(([, one], [, other]) => other.overCents - one.overCents)
    .slice(0, ROWS_MAX)
    .map(([name, work]) => ({
      ...{ name, chargedCents: work.chargedCents },
      bandCents: [0, Math.round(work.fairCents * (1 + tolerance))] as const,
    }));
  return plotBands(
    { title: 'Charged, beside the fair price', subject: 'Work', rows },
    createMeasureText(),
  );
}

interface Work {
  fairCents: number;
  chargedCents: number[];
  overCents: number;
}

function taskName(code: string): string {
  const known: Record<string, { name: string }> = taskWords;
  return known[code]?.name ?? code;
}
