import type { WholeFinding } from '../evidence/index.ts';
import type {
  Equipment,
  PriceBookPart,
  PriceBookTask,
} from '../platform/database/generated/client.ts';
import { ProblemError } from '../platform/http/problem.ts';
import {
  cents,
  type GoodsUse,
  goodsTaxClassSchema,
  goodsUnitSchema,
  type PartUse,
  type WorkItem,
} from '../pricing/index.ts';
import { remedyClassSchema } from '../trade/index.ts';
import { isWarranted, type WarrantedMachine } from './is-warranted.ts';

/** A finding with what its price depends on of its machine. */
export type PricedFinding = WholeFinding & {
  equipment: Pick<Equipment, 'systemId'> & WarrantedMachine;
};

/** The tasks and parts of a price book by their codes, as far as they are needed. */
export interface BookLines {
  tasks: ReadonlyMap<string, PriceBookTask>;
  parts: ReadonlyMap<string, PriceBookPart>;
}

/**
 * The work that mends a finding, as the engine prices it.
 * @param also further findings that the same work mends
 * @param today the local day: the last day of a warranty still counts
 * @param recalled findings by which our own work has come back; of those that share one piece of work
 *   one is enough, because it is the same work
 * @throws ProblemError 422 for a task or part that the price book does not have, or sells another
 *   way than it was noted
 */
export function workItem(
  finding: PricedFinding,
  also: readonly PricedFinding[],
  book: BookLines,
  today: string,
  recalled: ReadonlySet<string>,
): WorkItem {
  const task = book.tasks.get(finding.taskCode);
  if (task === undefined) {
    throw refused(`The price book in force has no task "${finding.taskCode}".`);
  }
  const pieces = finding.parts.filter(({ quantity }) => quantity !== null);
  const goods = finding.parts.filter(({ measured }) => measured !== null);
  return {
    findingId: finding.id,
    ...(also.length > 0 && { alsoFindingIds: also.map(({ id }) => id) }),
    faultCode: finding.faultCode,
    taskCode: finding.taskCode,
    taskName: task.name,
    remedyClass: remedyClassSchema.parse(finding.remedyClass),
    systemId: finding.equipment.systemId,
    minutes: task.minutes,
    accessGroup: task.accessGroup,
    accessMinutes: task.accessMinutes,
    parts: pieces.map((part) => partUse(part, finding.equipment, book, today)),
    ...(goods.length > 0 && { goods: goods.map((good) => goodsUse(good, book)) }),
    recall: [finding, ...also].some(({ id }) => recalled.has(id)),
  };
}

type FindingPart = WholeFinding['parts'][number];

function partUse(
  { partCode, quantity }: FindingPart,
  equipment: PricedFinding['equipment'],
  book: BookLines,
  today: string,
): PartUse {
  const part = partOf(book, partCode);
  if (quantity === null || part.unit !== null) throw soldOtherwise(partCode);
  return {
    code: part.code,
    name: part.name,
    unitCostCents: cents(part.costCents),
    quantity,
    underManufacturerWarranty: isWarranted(part, equipment, today),
    taxClass: goodsTaxClassSchema.parse(part.taxClass),
  };
}

function goodsUse({ partCode, measured }: FindingPart, book: BookLines): GoodsUse {
  const part = partOf(book, partCode);
  if (measured === null || part.packQuantity === null) throw soldOtherwise(partCode);
  return {
    code: part.code,
    name: part.name,
    unit: goodsUnitSchema.parse(part.unit),
    quantity: measured.toFixed(),
    packCostCents: cents(part.costCents),
    packQuantity: part.packQuantity.toFixed(),
    taxClass: goodsTaxClassSchema.parse(part.taxClass),
  };
}

function partOf({ parts }: BookLines, code: string): PriceBookPart {
  const part = parts.get(code);
  if (part === undefined) throw refused(`The price book in force has no part "${code}".`);
  return part;
}

function soldOtherwise(code: string): ProblemError {
  return refused(`The price book in force sells "${code}" another way: name the finding again.`);
}

function refused(message: string): ProblemError {
  return new ProblemError('price-refused', message);
}
