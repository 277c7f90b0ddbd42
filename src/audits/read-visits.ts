import type { JobVisit, RefrigerantOnJob } from '../auditing/index.ts';
import { cents } from '../pricing/index.ts';
import { quantitySchema, readsRefrigerant } from '../trade/index.ts';
import { instantOf } from './instant-of.ts';

/** A visit with what was done to refrigerant there. */
export interface ReadVisit {
  readonly ticketId: string;
  readonly visit: JobVisit;
  readonly gaugesUsed: boolean;
  readonly movesRecorded: number;
  /** Under Section 608, of the technician; null for none. It stands with the person and never expires. */
  readonly certificateType: string | null;
}

export function readVisit(row: VisitRow): ReadVisit {
  const { ticketId, gaugesUsed, movesRecorded, certificateType, arrivedAt, leftAt, ...visit } = row;
  return {
    ...{ ticketId, gaugesUsed, movesRecorded, certificateType },
    visit: {
      ...visit,
      feeCents: cents(visit.feeCents),
      arrivedAt: arrivedAt === null ? null : instantOf(arrivedAt),
      leftAt: leftAt === null ? null : instantOf(leftAt),
    },
  };
}

/** What happened to refrigerant on all visits of a ticket together. */
export function refrigerantOf(visits: readonly ReadVisit[]): RefrigerantOnJob {
  const there = visits.filter(({ visit }) => visit.arrivedAt !== null);
  const certificates = new Map(
    there.map(({ visit, certificateType }) => [visit.technicianId, certificateType]),
  );
  return {
    gaugesUsed: visits.some((visit) => visit.gaugesUsed),
    movesRecorded: visits.reduce((sum, { movesRecorded }) => sum + movesRecorded, 0),
    certificates: [...certificates].map(([technicianId, type]) => ({ technicianId, type })),
  };
}

export interface VisitRow extends Omit<JobVisit, 'arrivedAt' | 'leftAt' | 'feeCents'> {
  ticketId: string;
  feeCents: number;
  arrivedAt: string | null;
  leftAt: string | null;
  gaugesUsed: boolean;
  movesRecorded: number;
  certificateType: string | null;
}

/** What is read with gauges or a hose on the circuit. */
export const gaugeQuantities = quantitySchema.options.filter((quantity) =>
  readsRefrigerant({ quantity }),
);

/** The visits of tickets, in the order in which they were booked. */
// Counted and not asked for by EXISTS, which is answered by reading all readings that there are when
// many visits are asked about.
export const VISITS = `
  SELECT v.ticket_id AS "ticketId", v.id, v.purpose, v.state::text AS state,
    v.same_trip_as AS "sameTripAs", v.fee_cents AS "feeCents", v.arrived_at AS "arrivedAt",
    v.left_at AS "leftAt", v.technician_id AS "technicianId", s.epa608_type AS "certificateType",
    (SELECT count(*) > 0 FROM reading r WHERE r.visit_id = v.id AND r.source = 'measured'
      AND r.quantity = ANY ($2)) AS "gaugesUsed",
    (SELECT count(*)::int FROM refrigerant_move m WHERE m.visit_id = v.id
      AND NOT EXISTS (SELECT 1 FROM work_strike x WHERE x.refrigerant_move_id = m.id))
      AS "movesRecorded"
  FROM visit v JOIN staff s ON s.id = v.technician_id
  WHERE v.ticket_id = ANY ($1)
  ORDER BY v.id`;
