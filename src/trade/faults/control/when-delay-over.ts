import { controlVoltsMin } from '../../electrical/control-volts.ts';
import type { Facts } from '../../facts/admit-evidence.ts';
import { measuredFrom } from '../../facts/measured.ts';
import { latestInstant, type Minutes } from '../../facts/measured-near.ts';
import { compareWithLimit } from '../../uncertainty/compare-with-limit.ts';
import { lastInterruption, seenSince } from '../../verdicts/last-interruption.ts';
import type { Condition } from '../../verdicts/weigh-together.ts';
import type { PointCode } from '../../words/points.ts';

/** No thermostat or board holds a motor back for longer. Common practice, no source. */
const delayMinutesMax = 5;

const callPoints: readonly PointCode[] = [
  'thermostat_cooling_out',
  'board_cooling_call',
  'board_fan_call',
];

/**
 * That in these minutes every delay was over: the call was seen so long before them, with nothing
 * that broke it since, or somebody set the thermostat, waited, and nothing started.
 */
export function whenDelayOver(facts: Facts, minutes: Minutes): Condition {
  const waited = seenSince(facts, 'thermostat_starts_when_set', 'no', [minutes]);
  if (waited.state === 'holds') return waited;
  const instant = latestInstant(facts, minutes);
  const [first] = instant === undefined ? [] : callsUpTo(facts, instant);
  const isOver = first !== undefined && minutesBetween(first.at, instant) >= delayMinutesMax;
  return {
    state: isOver ? 'holds' : 'unknown',
    says: isOver
      ? `The call stood for ${delayMinutesMax} minutes and more.`
      : `Wait out the delay: measure again ${delayMinutesMax} minutes into the call.`,
    readingIds: first?.readingIds ?? [],
    observationIds: first?.observationIds ?? [],
    readingsDisagree: false,
  };
}

type Call = Minutes & { at: string };

/** Every sign of the call that stood at this instant, the earliest first. */
function callsUpTo(facts: Facts, instant: string): Call[] {
  const broken = lastInterruption(facts, instant);
  const calls: Call[] = [
    ...facts.observations
      .filter(({ code, answer }) => code === 'thermostat_calling_cooling' && answer === 'yes')
      .map(({ id, at }) => ({ at, readingIds: [], observationIds: [id] })),
    ...facts.readings
      .filter(({ point, quantity }) => callPoints.includes(point) && quantity === 'voltage')
      .filter((each) => compareWithLimit(measuredFrom(each), controlVoltsMin) === 'above')
      .map(({ id, takenAt }) => ({ at: takenAt, readingIds: [id], observationIds: [] })),
  ];
  return calls
    .filter(({ at }) => broken === undefined || minutesBetween(broken, at) >= 0)
    .sort((a, b) => minutesBetween(b.at, a.at));
}

function minutesBetween(from: string, to: string | undefined): number {
  return to === undefined ? Number.NaN : (Date.parse(to) - Date.parse(from)) / 60_000;
}
