// The exact optimum of one small day, to hold the planner against. It shares no line with what it
// judges: it imports nothing, and says its own rules again in its own words.

export interface ExactStop {
  /** Of work. */
  readonly minutes: number;
  /** The work begins no earlier and no later. */
  readonly earliest: number;
  readonly latest: number;
  /** What it costs to leave it out. */
  readonly weight: number;
  /** Promised: a day without it is no day at all. */
  readonly isMust: boolean;
  /** Who can do it, by place in the lists of the day. */
  readonly technicians: readonly number[];
}

/** Minutes of the road are given, so that how they are reckoned is not judged here. */
export interface ExactDay {
  readonly stops: readonly ExactStop[];
  /** By technician: the spans of work in order. No work runs across the end of one. */
  readonly hours: readonly (readonly { readonly from: number; readonly to: number }[])[];
  /** By technician and stop, there and back. */
  readonly fromBase: readonly (readonly number[])[];
  readonly toBase: readonly (readonly number[])[];
  /** By stop and stop. */
  readonly between: readonly (readonly number[])[];
}

export interface Optimum {
  readonly leftOutWeight: number;
  /** Whole minutes on the road, the way home included. */
  readonly travelMinutes: number;
}

/** When the last work of a part of a route ends, and what was driven until then. */
interface Label {
  readonly end: number;
  readonly travel: number;
}

/**
 * Least weight left out, then least travel, over every way to serve every subset of the stops:
 * for each technician a dynamic program over (subset, last stop) that keeps every pair of end and
 * travel no other pair beats in both (Held and Karp 1962, with time); then every partition of the
 * stops over the technicians. Undefined where not even the promised stops can all be served.
 */
export function exactDay(day: ExactDay): Optimum | undefined {
  const all = 1 << day.stops.length;
  let best = filled(all, Number.POSITIVE_INFINITY);
  best[0] = 0;
  for (let technician = 0; technician < day.hours.length; technician++) {
    best = joined(best, leastTravelBySubset(day, technician));
  }
  let optimum: Optimum | undefined;
  for (let subset = 0; subset < all; subset++) {
    const travelMinutes = at(best, subset);
    const left = day.stops.filter((_, stop) => (subset & (1 << stop)) === 0);
    if (travelMinutes === Number.POSITIVE_INFINITY || left.some(({ isMust }) => isMust)) continue;
    const leftOutWeight = left.reduce((sum, { weight }) => sum + weight, 0);
    const found = { leftOutWeight, travelMinutes };
    if (optimum === undefined || isBetter(found, optimum)) optimum = found;
  }
  return optimum;
}

function isBetter(one: Optimum, other: Optimum): boolean {
  return one.leftOutWeight !== other.leftOutWeight
    ? one.leftOutWeight < other.leftOutWeight
    : one.travelMinutes < other.travelMinutes;
}

/** The least travel for every subset when one more technician takes a part of it. */
function joined(before: readonly number[], own: readonly number[]): number[] {
  return before.map((_, subset) => {
    let least = Number.POSITIVE_INFINITY;
    for (let part = subset; ; part = (part - 1) & subset) {
      least = Math.min(least, at(own, part) + at(before, subset ^ part));
      if (part === 0) return least;
    }
  });
}

/** The least travel with which one technician serves exactly a subset; infinite where nobody could. */
function leastTravelBySubset(day: ExactDay, technician: number): number[] {
  const count = day.stops.length;
  const all = 1 << count;
  const labels: Label[][] = Array.from({ length: all * count }, () => []);
  const extend = (subset: number, stop: number, ready: number, travel: number) => {
    const start = startOf(day, technician, stop, ready);
    if (start === undefined) return;
    const next = (subset | (1 << stop)) * count + stop;
    const label = { end: start + at(day.stops, stop).minutes, travel };
    labels[next] = undominated(at(labels, next), label);
  };
  for (let stop = 0; stop < count; stop++) {
    const drive = at(at(day.fromBase, technician), stop);
    const [first] = at(day.hours, technician);
    if (first !== undefined) extend(0, stop, first.from + drive, drive);
  }
  for (let subset = 1; subset < all; subset++) {
    for (let last = 0; last < count; last++) {
      for (const { end, travel } of at(labels, subset * count + last)) {
        for (let stop = 0; stop < count; stop++) {
          if (subset & (1 << stop)) continue;
          const drive = at(at(day.between, last), stop);
          extend(subset, stop, end + drive, travel + drive);
        }
      }
    }
  }
  return Array.from({ length: all }, (_, subset) => {
    if (subset === 0) return 0;
    let least = Number.POSITIVE_INFINITY;
    for (let last = 0; last < count; last++) {
      for (const { travel } of at(labels, subset * count + last)) {
        least = Math.min(least, travel + at(at(day.toBase, technician), last));
      }
    }
    return least;
  });
}

function undominated(labels: readonly Label[], label: Label): Label[] {
  const isBeaten = labels.some(({ end, travel }) => end <= label.end && travel <= label.travel);
  if (isBeaten) return [...labels];
  return [...labels.filter(({ end, travel }) => end < label.end || travel < label.travel), label];
}

/** The first minute at or after `ready` at which the work may begin and end within one span. */
function startOf(day: ExactDay, technician: number, stop: number, ready: number) {
  const { minutes, earliest, latest, technicians } = at(day.stops, stop);
  if (!technicians.includes(technician)) return undefined;
  for (const { from, to } of at(day.hours, technician)) {
    const start = Math.max(from, earliest, ready);
    if (start + minutes <= to) return start <= latest ? start : undefined;
  }
  return undefined;
}

function filled(length: number, value: number): number[] {
  return Array.from({ length }, () => value);
}

function at<T>(list: readonly T[], index: number): T {
  const value = list[index];
  if (value === undefined) throw new RangeError(`Nothing stands at ${index}.`);
  return value;
}
