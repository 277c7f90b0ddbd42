import type { Facts } from '../../facts/admit-evidence.ts';
import { readingsAt } from '../../facts/measured.ts';
import { latestInstant } from '../../facts/measured-near.ts';
import { pairGapMinutesMax } from '../../facts/nearest-in-time.ts';
import type { Condition } from '../../verdicts/weigh-together.ts';

/**
 * That current could flow while a start device was tried at this instant: some seconds of locked
 * rotor open the overload of a sound compressor too, and then nothing starts it. Either the current
 * was clamped at the try, or common was read closed between that current and the try.
 */
export function whenCurrentFlowed(facts: Facts, current: Condition, triedMs: number): Condition {
  const drawnAt = latestInstant(facts, { ...current, observationIds: [] });
  const drawnMs = drawnAt === undefined ? Number.NEGATIVE_INFINITY : Date.parse(drawnAt);
  const closedMs = commonClosedMs(facts, triedMs);
  const isClamped = drawnMs >= triedMs && drawnMs - triedMs <= pairGapMinutesMax * 60_000;
  const isReadClosed = closedMs > drawnMs;
  const isOpen = commonSeenMs(facts, 'yes', triedMs) > closedMs;
  return {
    ...current,
    state: !isOpen && (isClamped || isReadClosed) ? 'holds' : 'unknown',
    says: 'Clamp the common lead while the start device is tried: through an open overload nothing starts.',
  };
}

/** When common was last read closed to both, up to an instant. */
function commonClosedMs(facts: Facts, untilMs: number): number {
  const [toRun, toStart] = (['compressor_c_to_r', 'compressor_c_to_s'] as const).map((point) =>
    latestUntil(
      readingsAt(facts, point, 'resistance').map(({ takenAt }) => takenAt),
      untilMs,
    ),
  );
  const byOhms = Math.min(toRun ?? never, toStart ?? never);
  return Math.max(byOhms, commonSeenMs(facts, 'no', untilMs));
}

function commonSeenMs(facts: Facts, answer: 'yes' | 'no', untilMs: number): number {
  const looks = facts.observations.filter(
    (each) => each.code === 'compressor_common_reads_open' && each.answer === answer,
  );
  return latestUntil(
    looks.map(({ at }) => at),
    untilMs,
  );
}

const never = Number.NEGATIVE_INFINITY;

function latestUntil(instants: readonly string[], untilMs: number): number {
  return Math.max(never, ...instants.map(Date.parse).filter((each) => each <= untilMs));
}
