import { currentPricingRuleset } from '../../src/pricing/index.ts';
import type { FeeToBill, ToBill, WorkToBill } from './bill-of-job.ts';
import { hasTurns } from './company-plan.ts';
import type { Trip } from './find-and-offer.ts';
import type { Job } from './job.ts';
import type { Pen } from './pen.ts';
import { feeInputsOf } from './pricing-inputs-of.ts';
import type { FieldVisit } from './write-evidence.ts';
import type { Outcomes } from './write-work.ts';
import { actsOn } from './wrongs/wrong.ts';

/** The fee of a trip stands alone where nobody said yes, unless our own work came back. */
export function toBill(pen: Pen, job: Job, all: readonly Went[]): ToBill {
  return {
    work: all.flatMap(workOf),
    fees: all.flatMap(({ trip }) => feeAlone(pen, job, trip)),
  };
}

/** What was agreed to at a trip, what became of it, and the change orders to it. */
export interface Went {
  trip: Trip;
  outcomes: Outcomes;
  changes: readonly Went[];
}

export const nothingUndone: Outcomes = { undoneFindingIds: [], leftOutKeys: [] };

export function alone(trip: Trip, outcomes: Outcomes = nothingUndone): Went {
  return { trip, outcomes, changes: [] };
}

export function workOf({ trip, outcomes, changes }: Went): WorkToBill[] {
  const { sold } = trip.offered;
  return sold === undefined ? [] : [{ sold, outcomes, changes: changes.flatMap(workOf) }];
}

function feeAlone(
  pen: Pen,
  { wrong, place: { jurisdiction } }: Job,
  { visit, terms, arrivedAt, recalled, offered: { sold, told }, of }: Trip,
): FeeToBill[] {
  const acts = actsOn(wrong, of);
  const isBilledApart = acts.chargesFeeAgain === true || acts.billsFeeApart === true;
  const isOwed = sold === undefined ? recalled.size === 0 : isBilledApart;
  if (!isOwed) return [];
  const isTold = told?.visitFee.chargeable === true;
  const inputs = isTold
    ? told
    : feeInputsOf(
        pen.plan,
        { book: visit.book, terms: withFee(pen, terms, visit), jurisdiction },
        arrivedAt,
      );
  const { version: rulesetVersion } = currentPricingRuleset;
  return [{ visitId: visit.id, arrivedAt, inputs, rulesetVersion }];
}

/** Who bills a fee that there is none of takes the usual one. */
function withFee({ plan }: Pen, terms: Trip['terms'], { book }: FieldVisit): Trip['terms'] {
  if (terms.feeCents > 0 || !hasTurns(plan)) return terms;
  const feeCents = book.periods.find(({ code }) => code === terms.periodCode)?.visitFeeCents ?? 0;
  return { ...terms, feeCents };
}
