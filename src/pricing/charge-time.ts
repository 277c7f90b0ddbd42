import type { Cents } from './cents.ts';
import type { TimeCoster } from './cost-of-time.ts';
import type { LaborRate } from './labor-rate.ts';
import type { PricingInputs } from './pricing-inputs.ts';
import { multiply, type Ratio, ratioOf } from './ratio.ts';
import { roundHalfUpToCents } from './round-half-up-to-cents.ts';
import { type Why, type WhyNode, whyInput, whyRounding } from './why.ts';
import { codeText, dollarsText, minutesText } from './words.ts';

export interface TimeCharge {
  readonly amountCents: Cents;
  readonly cost: Ratio;
  readonly why: Why;
}

/**
 * The price of minutes of labor or access, with its reasons. `minutesWhy` says where the minutes
 * come from when they are not simply those of the price book.
 */
export type TimeCharger = (minutes: number, minutesWhy?: WhyNode) => TimeCharge;

/** minutes / 60 x rate x factor of the period, rounded once. */
export function timeCharger(
  rate: LaborRate,
  period: PricingInputs['period'],
  costTime: TimeCoster,
): TimeCharger {
  const factor = ratioOf(period.laborFactor);
  const isPlain = factor.numerator === factor.denominator;
  const perMinute = multiply({ numerator: BigInt(rate.cents), denominator: 60n }, factor);
  const factorText = isPlain ? '' : ` x ${period.laborFactor} (${codeText(period.code)})`;
  const atRate = `/ 60 x ${dollarsText(rate.cents)} an hour${factorText}`;
  const rateInput = whyInput('labor rate', rate.cents, 'cents_per_hour');
  const factorInputs = isPlain
    ? []
    : [whyInput(`factor of period ${period.code}`, period.laborFactor, 'ratio')];

  return (minutes, minutesWhy = minutesOfBook(minutes)) => {
    const exact = {
      numerator: BigInt(minutes) * perMinute.numerator,
      denominator: perMinute.denominator,
    };
    const amountCents = roundHalfUpToCents(exact);
    const cost = costTime(minutes, minutesWhy);
    return {
      amountCents,
      cost: cost.exact,
      why: {
        sentence: `${minutesText(minutes)} ${atRate} = ${dollarsText(amountCents)}.`,
        steps: [
          whyRounding('minutes / 60 x rate x factor', exact, amountCents, [
            minutesWhy,
            rateInput,
            ...factorInputs,
          ]),
        ],
        owner: [cost.why],
      },
    };
  };
}

/** The minutes as the price book has them. */
export function minutesOfBook(minutes: number): WhyNode {
  return whyInput('time of the price book', minutes, 'minutes');
}
