import type { Tx } from '../platform/database/database.ts';
import type { PricingInputs } from '../pricing/index.ts';
import { isWarranted } from './is-warranted.ts';

/**
 * Looks up which priced parts the maker's warranty replaces today.
 * @param today the local day
 * @param versionId the price book that the inputs were made from
 * @returns for a finding and the code of a part of its work; undefined for what was not priced
 */
export async function warrantiesToday(
  tx: Pick<Tx, 'finding' | 'priceBookPart'>,
  today: string,
  { options }: PricingInputs,
  versionId: string,
): Promise<(findingId: string, partCode: string) => boolean | undefined> {
  const work = options.flatMap((option) => option.work);
  const findings = await tx.finding.findMany({
    where: { id: { in: work.map(({ findingId }) => findingId) } },
    select: {
      id: true,
      equipment: { select: { partsWarrantyUntil: true, compressorWarrantyUntil: true } },
    },
  });
  const codes = work.flatMap(({ parts }) => parts.map(({ code }) => code));
  const bookParts = await tx.priceBookPart.findMany({
    where: { versionId, code: { in: codes } },
    select: { code: true, warrantyClass: true },
  });
  const machines = new Map(findings.map(({ id, equipment }) => [id, equipment]));
  const classes = new Map(bookParts.map((part) => [part.code, part]));
  return (findingId, partCode) => {
    const machine = machines.get(findingId);
    const part = classes.get(partCode);
    return machine && part && isWarranted(part, machine, today);
  };
}
