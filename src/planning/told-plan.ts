import { type DayProblem, entry } from './day-problem.ts';
import type { Plan } from './plan.ts';
import { type Route, type RouteStop, toldRoute } from './told-route.ts';
import { type LeftOutReason, whyLeftOut } from './why-left-out.ts';

/** What a plan changes for one stop. */
export type Change =
  | {
      readonly kind: 'placed';
      readonly stopId: string;
      readonly technicianId: string;
      readonly start: number;
    }
  | {
      readonly kind: 'reassigned';
      readonly stopId: string;
      readonly fromTechnicianId: string;
      readonly technicianId: string;
      readonly start: number;
    }
  | {
      readonly kind: 'shifted';
      readonly stopId: string;
      /** Absent where no start was planned before. */
      readonly fromStart?: number;
      readonly start: number;
    };

/** A proposal for a day. */
export interface DayPlan {
  /** One for each crew, by the technician's id; also the empty ones. */
  readonly routes: readonly Route[];
  readonly travelMinutes: number;
  readonly changes: readonly Change[];
  readonly leftOut: readonly { readonly stopId: string; readonly why: LeftOutReason }[];
  /** Promises that cannot be kept, pinned ones among them. */
  readonly late: readonly { readonly stopId: string; readonly lateMinutes: number }[];
  /** Promised work that can only be done outside the hours. */
  readonly beyondHours: readonly { readonly stopId: string; readonly beyondMinutes: number }[];
}

/** A plan in the names of its crews and stops, with what it changes. */
export function toldPlan(problem: DayProblem, { routes, absent }: Plan): DayPlan {
  const told = routes.map(({ crew, order }) => toldRoute(problem, crew, order));
  const promises = new Set(problem.stops.filter(({ promised }) => promised).map(({ id }) => id));
  const all = told.flatMap(({ stops }) => stops);
  return {
    routes: told,
    travelMinutes: told.reduce((sum, { travelMinutes }) => sum + travelMinutes, 0),
    changes: told.flatMap((route) => changesOf(problem, route)),
    leftOut: [...absent]
      .sort((one, other) => one - other)
      .map((stop) => ({ stopId: entry(problem.stops, stop).id, why: whyLeftOut(problem, stop) })),
    late: all
      .filter(({ stopId, lateMinutes }) => lateMinutes > 0 && promises.has(stopId))
      .map(({ stopId, lateMinutes }) => ({ stopId, lateMinutes })),
    beyondHours: all
      .filter(({ beyondMinutes }) => beyondMinutes > 0)
      .map(({ stopId, beyondMinutes }) => ({ stopId, beyondMinutes })),
  };
}

function changesOf(problem: DayProblem, { technicianId, stops }: Route): Change[] {
  const given = new Map(problem.stops.map((stop) => [stop.id, stop]));
  return stops.flatMap(({ stopId, start }: RouteStop): Change[] => {
    const before = given.get(stopId);
    if (before?.pinnedStart !== undefined) return [];
    if (before?.technicianId === undefined) {
      return [{ kind: 'placed', stopId, technicianId, start }];
    }
    const { technicianId: fromTechnicianId, plannedStart: fromStart } = before;
    if (fromTechnicianId !== technicianId) {
      return [{ kind: 'reassigned', stopId, fromTechnicianId, technicianId, start }];
    }
    if (fromStart === start) return [];
    return [{ kind: 'shifted', stopId, ...(fromStart === undefined ? {} : { fromStart }), start }];
  });
}
