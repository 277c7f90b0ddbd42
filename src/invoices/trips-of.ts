import { companyOf } from '../company/index.ts';
import type { PriceBookVersion, Visit } from '../platform/database/generated/client.ts';
import { taxRuleFor } from '../pricebook/index.ts';
import {
  currentPricingRuleset,
  type PricingInputs,
  pricingInputsSchema,
} from '../pricing/index.ts';
import { recalledFindings, toldAgreement } from '../visits/index.ts';
import type { Store } from './store.ts';

/** A trip that was called for, with what its fee is computed from. */
export interface Trip {
  readonly visitId: string;
  readonly arrivedAt: Date;
  readonly inputs: PricingInputs;
  readonly rulesetVersion: string;
  /** The quotes of the visit that somebody agreed to and that stand; change orders are not among them. */
  readonly agreedQuoteIds: readonly string[];
}

/**
 * The trips whose fee a closing may bill, in the order they were made: finished, called for, and
 * not billed yet; not one that came back for work that was agreed to before, whatever it was booked
 * as; nor one of a trip whose fee another visit has. The fee of a trip is what its last paper told of
 * saying no; where there was no paper, what was told at the call. None is owed where our own work
 * came back within its warranty.
 * @throws ProblemError 409 when there is no tax rule for a fee that no paper has told yet
 */
export async function tripsOf(store: Store, closingId: string): Promise<Trip[]> {
  const { rows } = await store.sql.query<FoundTrip>(TRIPS, [closingId]);
  const trips: Trip[] = [];
  for (const { visitId, arrivedAt, agreedQuoteIds, inputs, rulesetVersion } of rows) {
    if (await isForOurOwnWork(store, visitId)) continue;
    const told = { visitId, arrivedAt, agreedQuoteIds };
    if (inputs !== null && rulesetVersion !== null) {
      trips.push({ ...told, inputs: pricingInputsSchema.parse(inputs), rulesetVersion });
    } else {
      const asTold = await feeAsTold(store, visitId, arrivedAt);
      trips.push({ ...told, inputs: asTold, rulesetVersion: currentPricingRuleset.version });
    }
  }
  return trips;
}

interface FoundTrip {
  visitId: string;
  arrivedAt: Date;
  agreedQuoteIds: string[];
  inputs: unknown;
  rulesetVersion: string | null;
}

/** What a quote of the visit would have been priced from, had there been anything to quote. */
async function feeAsTold(store: Store, visitId: string, arrivedAt: Date): Promise<PricingInputs> {
  const { prisma } = store;
  const visit = await prisma.visit.findUniqueOrThrow({
    where: { id: visitId },
    include: { priceBookVersion: true, ticket: { include: { site: true } } },
  });
  const { timeZone } = await companyOf(prisma);
  const { jurisdiction } = visit.ticket.site;
  const agreement = toldAgreement(visit);
  return pricingInputsSchema.parse({
    ...bookOf(visit),
    visitFee: { chargeable: true, amountCents: visit.feeCents },
    tax: await taxRuleFor(prisma, jurisdiction, arrivedAt, timeZone),
    ...(agreement && { agreement }),
    options: [{ title: 'The visit alone', work: [], adjustments: [] }],
  });
}

/** Of the price book by which the fee was told, as it is stored. */
function bookOf({
  periodCode,
  priceBookVersion,
}: Pick<Visit, 'periodCode'> & { priceBookVersion: PriceBookVersion }) {
  const { rates, tiers, policy } = priceBookVersion;
  // Nothing but the fee is priced, so the factor of the period has nothing to work on.
  return { rates, tiers, policy, period: { code: periodCode, laborFactor: '1' } };
}

/**
 * Whether a visit turned out to be for work of ours that came back within its warranty: a finding is
 * a fault that we mended before, however late at the visit it was found.
 */
export async function isForOurOwnWork({ sql }: Store, visitId: string): Promise<boolean> {
  const recalled = await recalledFindings(sql, visitId);
  return recalled.some(({ fromEarlierTrip }) => fromEarlierTrip);
}

// Identifiers are in the order of time: a visit booked after a closing is not of it.
const TRIPS = `
  SELECT v.id AS "visitId", v.arrived_at AS "arrivedAt", paper.inputs,
    paper.ruleset_version AS "rulesetVersion",
    ARRAY(SELECT q.id::text FROM quote q JOIN quote_acceptance a ON a.quote_id = q.id
      WHERE q.visit_id = v.id AND q.parent_id IS NULL
        AND NOT EXISTS (SELECT 1 FROM acceptance_cancellation x WHERE x.quote_id = q.id)
      ORDER BY 1) AS "agreedQuoteIds"
  FROM ticket_closing c
  JOIN visit v ON v.ticket_id = c.ticket_id AND v.id < c.id
  LEFT JOIN LATERAL (
    SELECT r.inputs, r.ruleset_version FROM quote q
    JOIN quote_issue i ON i.quote_id = q.id
    JOIN quote_revision r ON r.quote_id = i.quote_id AND r.number = i.revision
    WHERE q.visit_id = v.id AND q.parent_id IS NULL
    ORDER BY i.issued_at DESC, q.number DESC, i.revision DESC LIMIT 1) paper ON true
  WHERE c.id = $1 AND v.purpose = 'call' AND v.state = 'finished' AND v.same_trip_as IS NULL
    AND NOT EXISTS (SELECT 1 FROM invoice_document d LEFT JOIN quote q ON q.id = d.quote_id
      WHERE v.id = d.visit_id OR (v.id = q.visit_id AND q.parent_id IS NULL))
    AND NOT EXISTS (
      SELECT 1 FROM quote q JOIN quote_acceptance a ON a.quote_id = q.id
      WHERE q.ticket_id = v.ticket_id AND q.visit_id <> v.id AND a.accepted_at <= v.arrived_at
        AND NOT EXISTS (SELECT 1 FROM acceptance_cancellation x WHERE x.quote_id = q.id)
        AND EXISTS (SELECT 1 FROM standing_outcome w
          WHERE w.quote_id = q.id AND w.outcome = 'done' AND w.visit_id = v.id))
    AND NOT EXISTS (
      SELECT 1 FROM ticket_closing e
      JOIN invoice i ON i.closing_id = e.id
      JOIN invoice_state s ON s.invoice_id = i.id AND s.state = 'draft'
      WHERE e.ticket_id = c.ticket_id AND e.sequence < c.sequence AND v.id < e.id)
  ORDER BY v.arrived_at, v.id`;
