import type { Cents } from './cents.ts';
import type { LaborRate } from './labor-rate.ts';
import type { PricingInputs } from './pricing-inputs.ts';
import { multiply, type Ratio, ratioOf } from './ratio.ts';
import { roundHalfUpToCents } from './round-half-up-to-cents.ts';
import { type Why, whyInput, whyRounding, whyStep } from './why.ts';
import { codeText, dollarsText, minutesText } from './words.ts';

export interface TimeCharge {
  readonly amountCents: Cents;
  readonly cost: Ratio;
  readonly why: Why;
}

/** The price of minutes of labor or access, with its reasons. */
export type TimeCharger = (minutes: number) => TimeCharge;

/** minutes / 60 x rate x factor of the period, rounded once. */
export function timeCharger(rate: LaborRate, period: PricingInputs['period']): TimeCharger {
  const factor = ratioOf(period.laborFactor);
  const isPlain = factor.numerator === factor.denominator;
  const perMinute = multiply({ numerator: BigInt(rate.cents), denominator: 60n }, factor);
  const factorText = isPlain ? '' : ` x ${period.laborFactor} (${codeText(period.code)})`;
  const atRate = `/ 60 x ${dollarsText(rate.cents)} an hour${factorText}`;
  const rateInput = whyInput('labor rate', rate.cents, 'cents_per_hour');
  const factorInputs = isPlain
    ? []
    : [whyInput(`factor of period ${period.code}`, period.laborFactor, 'ratio')];

  return (minutes) => {
    const exact = {
      numerator: BigInt(minutes) * perMinute.numerator,
      denominator: perMinute.denominator,
    };
    const amountCents = roundHalfUpToCents(exact);
    const minutesInput = whyInput('time of the price book', minutes, 'minutes');
    const cost = costOfTime(minutes, rate.costPerHour);
    return {
      amountCents,
      cost,
      why: {
        sentence: `${minutesText(minutes)} ${atRate} = ${dollarsText(amountCents)}.`,
        steps: [
          whyRounding('minutes / 60 x rate x factor', exact, amountCents, [
            minutesInput,
            rateInput,
            ...factorInputs,
          ]),
        ],
        owner: [whyStep('cost of the time', cost, 'cents', [minutesInput])],
      },
    };
  };
}

/** What minutes of a technician cost the company, exactly. */
export function costOfTime(minutes: number, costPerHour: Ratio): Ratio {
  return multiply({ numerator: BigInt(minutes), denominator: 60n }, costPerHour);
}
