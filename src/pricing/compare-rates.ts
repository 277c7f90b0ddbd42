import { type Cents, cents } from './cents.ts';
import { timeCharger } from './charge-time.ts';
import { timeCoster } from './cost-of-time.ts';
import { explainLaborRate } from './labor-rate.ts';
import type { RateInputs } from './price-book.ts';

/** What a change of the rates does to what a customer pays. */
export interface RateComparison {
  readonly laborRateCents: BeforeAndAfter;
  /** Labor of 60 and of 30 minutes in regular hours, each rounded as a line would be. */
  readonly oneHourCents: BeforeAndAfter;
  readonly halfAnHourCents: BeforeAndAfter;
}

export interface BeforeAndAfter {
  readonly before: Cents;
  readonly after: Cents;
  /** Negative when it gets cheaper. */
  readonly difference: Cents;
}

/** The rates in force beside proposed ones, in the cents of the engine's own charges. */
export function compareRates(inForce: RateInputs, proposed: RateInputs): RateComparison {
  const before = priceTime(inForce);
  const after = priceTime(proposed);
  return {
    laborRateCents: beforeAndAfter(before.rateCents, after.rateCents),
    oneHourCents: beforeAndAfter(before.minutesCents(60), after.minutesCents(60)),
    halfAnHourCents: beforeAndAfter(before.minutesCents(30), after.minutesCents(30)),
  };
}

function priceTime(rates: RateInputs) {
  const rate = explainLaborRate(rates);
  const charge = timeCharger(
    rate,
    { code: 'regular', laborFactor: '1' },
    timeCoster(rate.costPerHour),
  );
  return {
    rateCents: rate.cents,
    minutesCents: (minutes: number) => charge(minutes).amountCents,
  };
}

function beforeAndAfter(before: Cents, after: Cents): BeforeAndAfter {
  return { before, after, difference: cents(after - before) };
}
