import type { BookedVisit } from '../workdays/index.ts';

/** When a visit is to be worked at, and by whom. */
export interface VisitChange {
  readonly visit: BookedVisit;
  readonly technicianId: string;
  readonly plannedStart: Date;
  readonly plannedEnd: Date;
}

/**
 * Of the changes of a plan those that can stand together on the board, where nobody is planned at
 * two places. A plan knows better how long work in hand will take, and may begin work past the end
 * of its window; the board keeps what was planned and promised. So where they do not agree, whoever
 * it concerns keeps the day as it is: first nothing is shifted there, then nobody new comes to it.
 */
export function storableChanges(
  visits: readonly BookedVisit[],
  changes: readonly VisitChange[],
): VisitChange[] {
  let standing = [...changes];
  for (;;) {
    const technicianId = overlapping(visits, standing);
    if (technicianId === undefined) return standing;
    const isOwn = (each: VisitChange) => each.technicianId === technicianId;
    const isShifted = (each: VisitChange) =>
      isOwn(each) && each.visit.technicianId === technicianId;
    const hasShifted = standing.some(isShifted);
    const rest = standing.filter((each) => !(hasShifted ? isShifted(each) : isOwn(each)));
    if (rest.length === standing.length) throw new Error('What is booked overlaps already.');
    standing = rest;
  }
}

/** A technician who would be planned at two places at once. */
function overlapping(
  visits: readonly BookedVisit[],
  changes: readonly VisitChange[],
): string | undefined {
  const changeOf = new Map(changes.map((each) => [each.visit.id, each]));
  const works = visits
    .filter(({ state }) => state !== 'finished')
    .map((visit) => changeOf.get(visit.id) ?? visit)
    .sort((one, other) => one.plannedStart.getTime() - other.plannedStart.getTime());
  const freeAt = new Map<string, number>();
  for (const { technicianId, plannedStart, plannedEnd } of works) {
    if (plannedStart.getTime() < (freeAt.get(technicianId) ?? 0)) return technicianId;
    freeAt.set(technicianId, plannedEnd.getTime());
  }
  return undefined;
}
