import { type DayPlan, type Road, travelMinutes } from '../../src/planning/index.ts';
import type { Day } from './random-day.ts';

/** Everything in which a plan breaks a rule of the day, in words: of a good plan, nothing. */
export function faultsOfPlan({ crews, stops }: Day, plan: DayPlan, road: Road): string[] {
  const faults: string[] = [];
  const fault = (isBroken: boolean, what: string) => {
    if (isBroken) faults.push(what);
  };
  const isExcused = new Set([...plan.late, ...plan.beyondHours].map(({ stopId }) => stopId));
  const seen = plan.leftOut.map(({ stopId }) => stopId);
  let travel = 0;
  for (const { technicianId, stops: run } of plan.routes) {
    const crew = crews.find((each) => each.technicianId === technicianId);
    if (crew === undefined) return [`${technicianId} is nobody of this day`];
    let place = crew.base;
    let free = crew.hours[0]?.from ?? 0;
    for (const { stopId, start, end } of run) {
      const stop = stops.find(({ id }) => id === stopId);
      if (stop === undefined) return [`${stopId} is no stop of this day`];
      const minutes = travelMinutes(place, stop.place, road);
      seen.push(stopId);
      travel += minutes;
      fault(end !== start + stop.minutes, `${stopId} does not take its minutes`);
      if (stop.pinnedStart === undefined) {
        fault(start < free + minutes, `${stopId} begins before anybody is there`);
        fault(start < stop.earliest, `${stopId} begins before its window`);
        fault(start > stop.latest && !isExcused.has(stopId), `${stopId} begins after its window`);
        const isWithin = crew.hours.some(({ from, to }) => start >= from && end <= to);
        fault(!isWithin && !isExcused.has(stopId), `${stopId} lies outside the hours`);
        const isFit = stop.needs.every((need) => crew.skills.includes(need));
        const isOwn = stop.promised && stop.technicianId === technicianId;
        fault(!isFit && !isOwn, `${technicianId} has not the skills for ${stopId}`);
      } else {
        fault(start !== stop.pinnedStart, `${stopId} is under way and was moved`);
        fault(technicianId !== stop.technicianId, `${stopId} is under way with another`);
      }
      place = stop.place;
      free = Math.max(free, end);
    }
    travel += travelMinutes(place, crew.base, road);
  }
  fault(travel !== plan.travelMinutes, 'the minutes on the road are not those told');
  fault(
    seen.sort().join() !==
      stops
        .map(({ id }) => id)
        .sort()
        .join(),
    'not every stop stands in one route or is left out once',
  );
  for (const { stopId } of [...plan.late, ...plan.leftOut]) {
    const stop = stops.find(({ id }) => id === stopId);
    const isLate = plan.late.some((each) => each.stopId === stopId);
    fault(isLate !== stop?.promised, `${stopId} is left out or late against its promise`);
  }
  return [...faults, ...faultsOfChanges({ crews, stops }, plan)];
}

/** What is told to change must be all that does. */
function faultsOfChanges({ stops }: Day, plan: DayPlan): string[] {
  const told = new Map(plan.changes.map((change) => [change.stopId, change]));
  return plan.routes.flatMap(({ technicianId, stops: run }) =>
    run.flatMap(({ stopId, start }) => {
      const before = stops.find(({ id }) => id === stopId);
      const isSame =
        before?.pinnedStart !== undefined ||
        (before?.technicianId === technicianId && before.plannedStart === start);
      const change = told.get(stopId);
      if (isSame) return change === undefined ? [] : [`${stopId} is told to change and does not`];
      if (change?.start !== start) return [`${stopId} changes and nobody is told`];
      const expected =
        before?.technicianId === undefined
          ? 'placed'
          : before.technicianId === technicianId
            ? 'shifted'
            : 'reassigned';
      return change.kind === expected
        ? []
        : [`${stopId} is ${expected}, and told as ${change.kind}`];
    }),
  );
}
