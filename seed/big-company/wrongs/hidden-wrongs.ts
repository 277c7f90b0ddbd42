import { dayText } from '../../../src/platform/calendar-day.ts';
import { isBreakerReset } from '../turns/turn-of.ts';
import { bendPrices } from './bend-prices.ts';
import type { Bendable, Wrong } from './wrong.ts';
import { cameBack, sold } from './wrongs.ts';

/** Ways to write a job wrongly where its visit takes an uncommon turn. */
export const hiddenWrongs: readonly Wrong[] = [
  {
    ...{ kind: 'recall_charged', shape: 'last_evening' },
    scenarioFor: (job) => (isLastEvening(job) ? cameBack(job) : undefined),
    bendPrice: bendPrices.noRecall,
  },
  {
    ...{ kind: 'warranted_part_charged', shape: 'last_evening' },
    scenarioFor: (job) => (isLastEveningOfMaker(job) ? sold(job) : undefined),
    bendPrice: bendPrices.noWarranty,
  },
  {
    ...{ kind: 'fee_not_credited', shape: 'fee_apart' },
    scenarioFor: sold,
    bendPrice: bendPrices.feeApart,
    acts: { billsFeeApart: true },
  },
  {
    ...{ kind: 'fee_charged_twice', shape: 'same_trip', turn: 'same_trip', on: 'further' },
    scenarioFor: sold,
    acts: { chargesFeeAgain: true },
  },
  {
    ...{ kind: 'reset_billed_as_repair', shape: 'change_order', turn: 'change_order' },
    on: 'further',
    scenarioFor: sold,
    wants: isBreakerReset,
    bendPrice: bendPrices.resetAsRepair,
  },
  {
    ...{ kind: 'line_without_finding', shape: 'change_order', turn: 'change_order', on: 'further' },
    scenarioFor: sold,
    bendPrice: bendPrices.workFromNowhere,
  },
  {
    ...{ kind: 'padded_minutes', shape: 'change_order', turn: 'change_order', on: 'further' },
    scenarioFor: sold,
    bendPrice: bendPrices.moreMinutes,
  },
  {
    ...{ kind: 'warranted_part_charged', shape: 'change_order', turn: 'change_order' },
    on: 'further',
    scenarioFor: sold,
    bendPrice: bendPrices.noWarranty,
  },
  {
    ...{ kind: 'parts_not_used', shape: 'change_order', turn: 'change_order', on: 'further' },
    scenarioFor: sold,
    acts: { leavesPartsOut: true },
  },
  {
    ...{ kind: 'access_charged_twice', turn: 'change_order', on: 'further' },
    scenarioFor: sold,
    wants: (further, first) => further.machine === first.machine,
    bendPrice: bendPrices.accessAgain,
  },
  {
    kind: 'after_hours_by_day',
    scenarioFor: (job) => (job.slot.onCall || !job.hasTurns ? undefined : sold(job)),
    bendPrice: bendPrices.afterHours,
  },
  {
    ...{ kind: 'recall_charged', shape: 'mended_again', turn: 'mended_again', on: 'further' },
    scenarioFor: ({ scenario }) => scenario,
    bendPrice: bendPrices.noRecallOfWork,
  },
  {
    ...{ kind: 'price_above_ceiling', shape: 'adjusted' },
    scenarioFor: sold,
    bendPrice: bendPrices.raisedByHand,
    keepsInputs: true,
  },
  {
    ...{ kind: 'padded_minutes', shape: 'goodwill', turn: 'goodwill', bendsClass: 'labor' },
    scenarioFor: sold,
    bendPrice: bendPrices.moreMinutes,
  },
  {
    ...{ kind: 'padded_part_cost', shape: 'goodwill', turn: 'goodwill', bendsClass: 'part' },
    scenarioFor: sold,
    bendPrice: bendPrices.dearerParts,
  },
];

/** So late that it is the next day in UTC; the warranty on our work ends today. */
function isLastEvening({ slot, known, day }: Bendable): boolean {
  return slot.onCall && known.some(({ laborWarrantyUntil }) => laborWarrantyUntil === day);
}

function isLastEveningOfMaker({ slot, outdoor, day }: Bendable): boolean {
  const { partsWarrantyUntil } = outdoor.row;
  return slot.onCall && partsWarrantyUntil !== null && dayText(partsWarrantyUntil) === day;
}
