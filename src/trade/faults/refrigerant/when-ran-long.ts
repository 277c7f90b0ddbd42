import type { Facts } from '../../facts/admit-evidence.ts';
import { remembered } from '../../facts/remembered-for.ts';
import { chargeTestLimits } from '../../refrigerant/charge-test-limits.ts';
import { lastInterruption } from '../../verdicts/last-interruption.ts';
import type { Condition } from '../../verdicts/weigh-together.ts';

/**
 * That the circuit had settled when its pressures were read: nothing on record says that it had
 * started less than 15 minutes before. What was noted in the same instant says nothing of that, for
 * the gauges are read after those minutes.
 */
export const whenRanLong = remembered((facts): Condition => {
  const read = facts.readings.findLast(({ quantity }) => quantity === 'gauge_pressure');
  const since = read && surelyRunningSince(facts, read.takenAt);
  const ranMinutes = since ? (Date.parse(read.takenAt) - Date.parse(since.at)) / 60_000 : 0;
  const tooShort = ranMinutes > 0 && ranMinutes < chargeTestLimits.stabilizeMinutes;
  return {
    state: tooShort ? 'unknown' : 'holds',
    says: tooShort
      ? `It surely ran only ${Math.floor(ranMinutes)} minutes before the pressures were read; read them again ${chargeTestLimits.stabilizeMinutes} minutes after its start.`
      : 'Nothing on record says that it had just started.',
    readingIds: [],
    observationIds: since?.observationIds ?? [],
    readingsDisagree: false,
  };
});

/** The first look since its last stop that found it running, else that stop. */
function surelyRunningSince(
  facts: Facts,
  before: string,
): { at: string; observationIds: readonly string[] } | undefined {
  const looks = facts.observations.filter(({ code }) => code === 'compressor_running');
  const stops = [
    lastInterruption(facts),
    looks.findLast(({ answer }) => answer === 'no')?.at,
  ].flatMap((at) => (at === undefined || isAfter(at, before) ? [] : [at]));
  const stopped = stops.reduce<string | undefined>(later, undefined);
  const seen = looks.find(
    ({ answer, at }) => answer === 'yes' && (stopped === undefined || !isAfter(stopped, at)),
  );
  if (seen !== undefined) return { at: seen.at, observationIds: [seen.id] };
  return stopped === undefined ? undefined : { at: stopped, observationIds: [] };
}

function later(a: string | undefined, b: string): string {
  return a !== undefined && isAfter(a, b) ? a : b;
}

function isAfter(a: string, b: string): boolean {
  return Date.parse(a) > Date.parse(b);
}
