import type { OptionInputs, PricingInputs, PricingRefusal } from '../../pricing/index.ts';

type Adjustment = OptionInputs['adjustments'][number];

/**
 * An option priced alone without the adjustments for which the engine refused it: on a charge that
 * left its band what others than the owner adjusted first, and the owner's own where that is not
 * enough. What was adjusted on other charges stays, because the credit of the fee depends on it.
 * @returns undefined where no adjustment is left to be taken away
 */
export function withoutRefused(
  inputs: PricingInputs,
  refusals: readonly PricingRefusal[],
): PricingInputs | undefined {
  const adjustments = inputs.options.flatMap((option) => option.adjustments);
  if (adjustments.length === 0) return undefined;
  const targets = new Set(refusals.flatMap((refusal) => targetOf(refusal, adjustments)));
  const others = new Set(
    adjustments.filter(({ byOwner }) => !byOwner).map(({ aimedAt }) => aimedAt),
  );
  const stays = ({ aimedAt, byOwner }: Adjustment): boolean =>
    !targets.has(aimedAt) || (byOwner && others.has(aimedAt));
  // Where the engine names none of them, all of them are taken away: an amount may be too large.
  const left = targets.size === 0 ? [] : adjustments.filter(stays);
  return {
    ...inputs,
    options: inputs.options.map((option) => ({ ...option, adjustments: left })),
  };
}

/** The charge at which an adjustment was aimed that a refusal points to. */
function targetOf({ pointer }: PricingRefusal, adjustments: readonly Adjustment[]): string[] {
  const [, at] = /^\/options\/0\/adjustments\/(\d+)\//.exec(pointer) ?? [];
  const adjustment = at === undefined ? undefined : adjustments[Number(at)];
  return adjustment === undefined ? [] : [adjustment.aimedAt];
}
