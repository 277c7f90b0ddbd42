import {
  addCents,
  cents,
  currentPricingRuleset,
  type PricedOption,
  type PricingInputs,
} from '../../../src/pricing/index.ts';
import type { Job } from '../job.ts';
import type { Pen } from '../pen.ts';
import type { Random } from '../random.ts';
import type { Adjust } from '../write-quote.ts';

/** How somebody changes the price by hand, where the job takes that turn. */
export function adjustOfTurn(pen: Pen, { turn }: Job): Adjust | undefined {
  if (turn?.name !== 'adjusted') return undefined;
  const isByOwner = pen.random.chance(0.5);
  return (inputs) => adjusted(inputs, isByOwner, isByOwner ? ownersShare(pen.random) : undefined);
}

/** The owner goes where nobody else may: up to half as much again, or a third less. */
function ownersShare(random: Random): number {
  return random.between(-0.3, 0.5);
}

/**
 * A price with one charge of labor or of a part changed by hand.
 * @param share of what the charge computes to; to the very edge of the band when absent
 */
export function adjusted(
  inputs: PricingInputs,
  byOwner: boolean,
  share: number | undefined,
): PricingInputs {
  const [option] = priced(inputs);
  const target = option && mostOf(option);
  const [first, ...others] = inputs.options;
  if (target === undefined || first === undefined) return inputs;
  const { key, computedCents } = target;
  const edge = Math.floor(computedCents * Number(inputs.policy.fairBandTolerance));
  const amountCents = share === undefined ? edge : Math.round(computedCents * share);
  if (amountCents === 0) return inputs;
  const adjustment = {
    aimedAt: key,
    amountCents: cents(amountCents),
    reason: share === undefined ? 'Rusted bolts.' : 'As agreed on the phone.',
    byOwner,
  };
  return { ...inputs, options: [{ ...first, adjustments: [adjustment] }, ...others] };
}

function priced(inputs: PricingInputs): readonly PricedOption[] {
  const result = currentPricingRuleset.priceQuote(inputs);
  return result.outcome === 'priced' ? result.quote.options : [];
}

/** The dearest charge that may be changed: not one that is free by rule. */
function mostOf({ lines }: PricedOption) {
  const charges = lines
    .filter(({ kind, amountCents }) => (kind === 'labor' || kind === 'part') && amountCents > 0)
    .map(({ key, amountCents }) => {
      const off = lines.filter((line) => line.kind === 'discount' && line.aimedAt === key);
      return {
        key,
        computedCents: addCents([amountCents, ...off.map((line) => line.amountCents)]),
      };
    });
  return charges.toSorted((one, other) => other.computedCents - one.computedCents)[0];
}
