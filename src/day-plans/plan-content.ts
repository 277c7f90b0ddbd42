import type { DayPlan, Span } from '../planning/index.ts';
import { type BookedVisit, instantOf, SPARE_MINUTES_MIN } from '../workdays/index.ts';
import type { PlanContent } from './contract.ts';
import type { DayToPlan } from './day-to-plan.ts';
import { storableChanges, type VisitChange } from './storable-changes.ts';

/** A proposal as it is kept and shown. */
export function planContent(today: DayToPlan, plan: DayPlan): PlanContent {
  const { work, windows, waiting } = today;
  const visits = new Map(
    work.days.flatMap(({ stops }) => stops.map(({ id, visit }) => [id, visit] as const)),
  );
  const changes = plan.changes.flatMap((change): VisitChange[] => {
    const visit = visits.get(change.stopId);
    if (change.kind === 'placed' || visit === undefined) return [];
    const { technicianId } = change.kind === 'reassigned' ? change : visit;
    return [changeOf(visit, technicianId, change.start)];
  });
  const standing = storableChanges([...visits.values()], changes);
  const placements = plan.changes.flatMap((change) =>
    change.kind === 'placed' && waiting.has(change.stopId)
      ? [{ change, window: windowAt(windows, change.start) }]
      : [],
  );
  const stopMinutes = new Map(today.stops.map(({ id, minutes }) => [id, minutes]));
  return {
    shifted: standing.filter(isShift).map(told),
    reassigned: standing
      .filter((each) => !isShift(each))
      .map((each) => ({ ...told(each), fromTechnicianId: each.visit.technicianId })),
    placed: placements.flatMap(({ change: { stopId, technicianId, start }, window }) =>
      window === undefined
        ? []
        : {
            ...{ ticketId: stopId, technicianId },
            windowStart: instantOf(window.from).toISOString(),
            windowEnd: instantOf(window.to).toISOString(),
            planned: {
              start: instantOf(start).toISOString(),
              minutes: stopMinutes.get(stopId) ?? work.policy.usualMinutes,
            },
          },
    ),
    leftOut: [
      ...plan.leftOut.map(({ stopId, why }) => ({ ticketId: stopId, why })),
      ...placements
        .filter(({ window }) => window === undefined)
        .map(({ change }) => ({ ticketId: change.stopId, why: 'no_window' as const })),
    ],
    late: plan.late.map(({ stopId, lateMinutes }) => ({ visitId: stopId, lateMinutes })),
    travelMinutes: { before: today.travelMinutesBefore, after: plan.travelMinutes },
    withoutBase: [...work.withoutBase],
  };
}

function changeOf(visit: BookedVisit, technicianId: string, start: number): VisitChange {
  // Nobody can be promised to come later than was promised: the plan tells how late it is.
  const latest = visit.windowEnd.getTime();
  const earliest = visit.windowStart.getTime();
  const begin = Math.min(latest, Math.max(earliest, instantOf(start).getTime()));
  return {
    ...{ visit, technicianId },
    plannedStart: new Date(begin),
    plannedEnd: new Date(begin + minutesOf(visit) * 60_000),
  };
}

function isShift({ visit, technicianId }: VisitChange): boolean {
  return visit.technicianId === technicianId;
}

function told({ visit, technicianId, plannedStart, plannedEnd }: VisitChange) {
  return {
    ...{ visitId: visit.id, technicianId },
    before: spanOf(visit),
    planned: spanOf({ plannedStart, plannedEnd }),
  };
}

interface Planned {
  plannedStart: Date;
  plannedEnd: Date;
}

function spanOf(planned: Planned) {
  return { start: planned.plannedStart.toISOString(), minutes: minutesOf(planned) };
}

function minutesOf({ plannedStart, plannedEnd }: Planned): number {
  return Math.ceil((plannedEnd.getTime() - plannedStart.getTime()) / 60_000);
}

/** The first window in which work planned for this minute can be promised. */
function windowAt(windows: readonly Span[], start: number): Span | undefined {
  return windows.find(({ from, to }) => from <= start && start <= to - SPARE_MINUTES_MIN);
}
