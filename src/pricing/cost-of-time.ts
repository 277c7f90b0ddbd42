import { multiply, type Ratio } from './ratio.ts';
import { type WhyNode, type WhyStep, whyStep } from './why.ts';

/** What minutes of a technician cost the company, exactly, with the reasons; for the owner's eyes. */
export interface TimeCost {
  readonly exact: Ratio;
  readonly why: WhyStep;
}

export type TimeCoster = (minutes: number, minutesWhy: WhyNode) => TimeCost;

/** minutes / 60 x cost per hour. How the cost of an hour came about stands once, with the rate. */
export function timeCoster(costPerHour: Ratio): TimeCoster {
  const perHour = whyStep(
    'cost per billable hour, as the labor rate tells',
    costPerHour,
    'cents_per_hour',
    [],
  );
  return (minutes, minutesWhy) => {
    const exact = multiply({ numerator: BigInt(minutes), denominator: 60n }, costPerHour);
    return {
      exact,
      why: whyStep('minutes / 60 x cost per hour', exact, 'cents', [minutesWhy, perHour]),
    };
  };
}
