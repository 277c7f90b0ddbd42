import { controlVoltsMin, deadVoltsMax } from '../electrical/control-volts.ts';
import type { Reading } from '../evidence.ts';
import type { Facts } from '../facts/admit-evidence.ts';
import { measuredFrom, show } from '../facts/measured.ts';
import { remembered } from '../facts/remembered-for.ts';
import { lineVoltsMin } from '../facts/supply-volts.ts';
import { compareWithLimit } from '../uncertainty/compare-with-limit.ts';
import type { EquipmentKind } from '../words/equipment-kinds.ts';
import { blowerKinds, outdoorKinds } from '../words/kinds.ts';
import { type ObservationCode, observationWords } from '../words/observations.ts';
import { type PointCode, pointWords } from '../words/points.ts';
import type { Condition } from './weigh-together.ts';
import { whenObserved } from './when-observed.ts';

/** A moment at which the machine was seen without feed or call, and what showed it. */
type Interruption = { at: string; says: string };

/** What a look is set beside: all a condition rests on. */
type Beside = Pick<Condition, 'readingIds' | 'observationIds'>;

/**
 * The latest instant, up to and including `by`, at which the machine was seen without feed or call;
 * undefined if never.
 */
export function lastInterruption(facts: Facts, by?: string): string | undefined {
  const limit = by === undefined ? Number.POSITIVE_INFINITY : Date.parse(by);
  return interruptionsOf(facts).findLast(({ at }) => Date.parse(at) <= limit)?.at;
}

/**
 * That the latest look gave this answer and nothing interrupted feed or call since: what stood
 * still before the breaker was reset says nothing of the time after it. Set `beside` conditions, only
 * an interruption between the look and what they rest on spoils it. A look in the same instant as an
 * interruption counts as after it; where none is on record any look counts.
 */
export function seenSince(
  facts: Facts,
  code: ObservationCode,
  answer: 'yes' | 'no' = 'yes',
  beside: readonly Beside[] = [],
): Condition {
  const seen = whenObserved(facts, code, answer);
  if (seen.state !== 'holds') return seen;
  const look = facts.observations.findLast((each) => each.code === code);
  if (look === undefined) return seen;
  const others = instantsOf(facts, beside);
  const spoils = interruptionsOf(facts).findLast((each) => isBetween(each, look.at, others));
  if (spoils === undefined) return seen;
  const { statement } = observationWords[code];
  return {
    ...seen,
    state: 'unknown',
    says: `Look again: ${statement}? What was seen is not of the same run: ${spoils.says}.`,
  };
}

/** When each reading was taken, and when each thing was last seen; without any, ever after. */
function instantsOf({ readings, observations }: Facts, beside: readonly Beside[]): number[] {
  const instants = beside.flatMap(({ readingIds, observationIds }) => {
    const read = readings.filter(({ id }) => readingIds.includes(id));
    const seen = observations.findLast(({ id }) => observationIds.includes(id));
    return [...read.map(({ takenAt }) => takenAt), ...(seen === undefined ? [] : [seen.at])];
  });
  return instants.length === 0 ? [Number.POSITIVE_INFINITY] : instants.map(Date.parse);
}

function isBetween({ at }: Interruption, look: string, others: readonly number[]): boolean {
  const looked = Date.parse(look);
  const interrupted = Date.parse(at);
  return others.some(
    (other) => Math.min(looked, other) < interrupted && interrupted <= Math.max(looked, other),
  );
}

const interruptionsOf = remembered((facts): readonly Interruption[] => {
  const { kind } = facts.equipment;
  const sides = [
    ...(isOneOf(outdoorKinds, kind) ? [outdoors] : []),
    ...(isOneOf(blowerKinds, kind) ? [indoors] : []),
  ];
  const looks = [everywhere, ...sides].flatMap((side) => side.looks);
  const dead = [everywhere, ...sides].flatMap((side) => side.dead);
  const seen = facts.observations
    .filter((each) => looks.some(([code, answer]) => each.code === code && each.answer === answer))
    .map(({ at, code, answer }) => ({
      at,
      says: `${observationWords[code].statement}: ${answer}`,
    }));
  const measured = facts.readings
    .filter((each) => isWithout(each, dead))
    .map((each) => ({
      at: each.takenAt,
      says: `${show(measuredFrom(each))}, ${pointWords[each.point].name}`,
    }));
  return [...seen, ...measured].sort((a, b) => Date.parse(a.at) - Date.parse(b.at));
});

type Signs = {
  looks: readonly (readonly [ObservationCode, 'yes' | 'no'])[];
  /** Where no voltage says that feed or call is missing. */
  dead: readonly PointCode[];
};

const everywhere: Signs = {
  looks: [
    ['breaker_found_tripped', 'yes'],
    ['breaker_trips_again', 'yes'],
    ['disconnect_found_open', 'yes'],
    ['disconnect_fuse_reads_open', 'yes'],
    ['thermostat_set_wrong', 'yes'],
    ['thermostat_screen_blank', 'yes'],
    ['thermostat_calling_cooling', 'no'],
    ['control_fuse_reads_open', 'yes'],
    ['float_switch_raised', 'yes'],
  ],
  dead: [
    'line_supply',
    'disconnect_line_side',
    'transformer_primary',
    'transformer_secondary',
    'control_supply',
    'thermostat_supply',
    'thermostat_cooling_out',
    'float_switch_in',
    'float_switch_out',
  ],
};

/** A dead coil or an open contactor is what a fault behind the call looks like: no interruption. */
const outdoors: Signs = {
  looks: [['high_pressure_switch_open', 'yes']],
  dead: ['board_cooling_call', 'outdoor_cooling_call'],
};

/** The indoor fan has a call of its own. */
const indoors: Signs = { looks: [], dead: ['board_fan_call'] };

const linePoints: readonly PointCode[] = [
  'line_supply',
  'disconnect_line_side',
  'transformer_primary',
];

function isWithout(reading: Reading, dead: readonly PointCode[]): boolean {
  if (reading.quantity !== 'voltage') return false;
  const measured = measuredFrom(reading);
  if (reading.point === 'high_pressure_switch') {
    // An open switch holds the whole control voltage.
    return compareWithLimit(measured, controlVoltsMin) === 'above';
  }
  const limitVolts = linePoints.includes(reading.point) ? lineVoltsMin : deadVoltsMax;
  return dead.includes(reading.point) && compareWithLimit(measured, limitVolts) === 'below';
}

function isOneOf(kinds: readonly EquipmentKind[], kind: EquipmentKind): boolean {
  return kinds.includes(kind);
}
