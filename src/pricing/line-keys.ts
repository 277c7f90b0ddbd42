import type { GoodsUse, PartUse, WorkItem } from './pricing-inputs.ts';

/*
 * A key names a charge by what it is for, never by where it stands, so that an adjustment keeps
 * its aim when findings are added or written in another order.
 */

export const visitFeeKey = 'visit_fee';
export const visitFeeCreditKey = 'credit:visit_fee';
export const taxKey = 'tax';

export function partKey(work: WorkItem, part: PartUse): string {
  return `part:${work.findingId}:${work.taskCode}:${part.code}`;
}

export function goodKey(work: WorkItem, good: GoodsUse): string {
  return `good:${work.findingId}:${work.taskCode}:${good.code}`;
}

export function laborKey(work: WorkItem): string {
  return `labor:${work.findingId}:${work.taskCode}`;
}

export function accessKey(systemId: string, accessGroup: string): string {
  return `access:${systemId}:${accessGroup}`;
}

export function secondTaskDiscountKey(laborLineKey: string): string {
  return `discount:${laborLineKey}:second_task`;
}

export function earlierSecondTaskDiscountKey(laborLineKey: string): string {
  return `discount:${laborLineKey}:earlier_second_task`;
}

export function agreementDiscountKey(lineKey: string): string {
  return `discount:${lineKey}:agreement`;
}

/** `ordinal` counts from 1 the adjustments that are aimed at one line. */
export function adjustmentKey(aimedAt: string, ordinal: number): string {
  return `adjustment:${aimedAt}:${ordinal}`;
}
