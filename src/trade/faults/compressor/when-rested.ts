import type { Facts } from '../../facts/admit-evidence.ts';
import { lastLook } from '../../facts/last-look.ts';
import { pressureLifts } from '../../facts/pressure-lifts.ts';
import type { Condition } from '../../verdicts/weigh-together.ts';
import { whenMeasured } from '../../verdicts/when-measured.ts';
import { whenObserved } from '../../verdicts/when-observed.ts';

/** Pressures so near to each other hinder no start; common practice, no source. */
const equalPsiMax = 20;

/**
 * That the compressor had rested when it was tried at this instant: right after a stop the head
 * pressure stalls a sound one. Its pressures were read equal before the try, or it had been left to
 * cool, which takes longer than pressures take to even out.
 */
export function whenRested(facts: Facts, triedMs: number): Condition {
  const lift = pressureLifts(facts).findLast(({ atMs }) => atMs <= triedMs);
  const cooled = whenObserved(facts, 'compressor_cooled_down');
  const cooledMs = lastLook(facts, 'compressor_cooled_down', 'yes');
  const hasCooled = cooled.state === 'holds' && cooledMs <= triedMs;
  if (hasCooled && (lift === undefined || cooledMs >= lift.atMs)) return cooled;
  if (lift === undefined) return { ...cooled, state: 'unknown', says: restFirst };
  const settled = { kind: 'settled', measured: lift.measured, doubts: [] } as const;
  return whenMeasured(settled, 'head over suction pressure at the start', 'below', equalPsiMax);
}

const restFirst =
  'Read both pressures at rest, or let the compressor cool, and only then try again: against pressure a sound one stalls too.';
