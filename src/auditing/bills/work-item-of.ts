import { cents, type GoodsUse, type PartUse, type WorkItem } from '../../pricing/index.ts';
import { remedyFor, type TaskCode } from '../../trade/index.ts';
import type { FairBook, FairPart } from './fair-book.ts';
import { categoriesOf, partsThatFit } from './parts-that-fit.ts';
import type { WorkWithParts } from './work-with-parts.ts';

/** Work as our engine prices it, or why it cannot be. */
export type WorkItemAnswer =
  | { readonly outcome: 'made'; readonly item: WorkItem; readonly choices: readonly string[] }
  | { readonly outcome: 'not_made'; readonly reason: string };

/**
 * A piece of work that a bill tells of, as one task of our price book with the parts it takes. Where
 * several parts fit, the dearest is taken: a bill is only held against what it surely was not.
 */
export function workItemOf(
  work: WorkWithParts,
  task: TaskCode,
  book: FairBook,
  findingId: string,
): WorkItemAnswer {
  const listed = book.tasks.get(task);
  const faultCode = work.faultCodes.find((fault) => remedyFor(fault, task) !== undefined);
  const remedy = faultCode === undefined ? undefined : remedyFor(faultCode, task);
  if (listed === undefined || faultCode === undefined || remedy === undefined) {
    return notMade(`The price book has no task “${listed?.name ?? task}”.`);
  }
  const parts: PartUse[] = [];
  const goods: GoodsUse[] = [];
  const choices: string[] = [];
  for (const category of categoriesOf(task)) {
    const fitting = fittingParts(work, category, task, book);
    const [part] = fitting;
    if (part === undefined)
      return notMade(`The price book has no part that fits “${listed.name}”.`);
    if (fitting.length > 1) choices.push(dearestOf(fitting.length, part));
    if (part.measured === undefined) parts.push(pieces(part, work.quantity));
    else if (work.figures.pounds === undefined) return notMade(NO_POUNDS);
    else goods.push(measured(part, part.measured, work.figures.pounds));
  }
  if (remedy.remedyClass === 'reset') choices.push(isReset(listed.name));
  const { name, minutes, accessGroup, accessMinutes } = listed;
  return {
    outcome: 'made',
    choices,
    item: {
      findingId,
      faultCode,
      taskCode: task,
      taskName: name,
      remedyClass: remedy.remedyClass,
      systemId: 'system',
      minutes,
      accessGroup,
      accessMinutes,
      parts,
      ...(goods.length > 0 && { goods }),
      recall: false,
    },
  };
}

const NO_POUNDS = 'The bill does not say how many pounds of refrigerant went in.';

function notMade(reason: string): WorkItemAnswer {
  return { outcome: 'not_made', reason };
}

function fittingParts(
  { namedParts, figures }: WorkWithParts,
  category: FairPart['fit']['category'],
  task: TaskCode,
  book: FairBook,
): readonly FairPart[] {
  const named = namedParts.filter(({ fit }) => fit.category === category);
  return named.length > 0 ? named.slice(0, 1) : partsThatFit(category, task, figures, book);
}

function dearestOf(count: number, { name }: FairPart): string {
  return `The bill leaves open which part it was: of ${count} that fit, the dearest is taken, “${name}”.`;
}

function isReset(taskName: string): string {
  return `“${taskName}” is a reset: it is charged at its materials alone.`;
}

function pieces({ code, name, costCents, taxClass }: FairPart, quantity: number): PartUse {
  const unitCostCents = cents(costCents);
  return { code, name, unitCostCents, quantity, underManufacturerWarranty: false, taxClass };
}

function measured(
  { code, name, costCents, taxClass }: FairPart,
  { unit, packQuantity }: NonNullable<FairPart['measured']>,
  quantity: string,
): GoodsUse {
  return { code, name, unit, quantity, packCostCents: costCents, packQuantity, taxClass };
}
