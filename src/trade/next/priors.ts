import { type FaultCode, faultCodeSchema, faults } from '../faults/catalog.ts';

/** How common each fault is before anybody looked, and what those shares rest on. */
export type Priors = {
  shares: Readonly<Record<FaultCode, number>>;
  /** What the catalog does not know always keeps this much. */
  somethingElse: number;
  basis: 'common_practice' | 'own_tickets';
  ticketCount: number;
};

/** Below this many of its own closed tickets a company learns more from the trade than from them. */
export const ownTicketsMin = 500;

/** Of a hundred calls: five have a cause that no catalog of common faults names. */
const somethingElseShare = 0.05;

/**
 * The shares of common practice, and from 500 of the company's own closed tickets on those joined
 * with its own counts: the trade then speaks with the weight of 500 tickets (the mean of a Dirichlet
 * distribution). The same counts always give the same shares.
 * @param counts how many closed tickets had each fault proven
 */
export function priorsFrom(counts: Partial<Readonly<Record<FaultCode, number>>>): Priors {
  const codes = faultCodeSchema.options;
  const ticketCount = codes.reduce((sum, code) => sum + (counts[code] ?? 0), 0);
  const isOwn = ticketCount >= ownTicketsMin;
  const weights = codes.map(
    (code) => tradeShare(code) * ownTicketsMin + (isOwn ? (counts[code] ?? 0) : 0),
  );
  const sum = weights.reduce((total, each) => total + each, 0);
  const known = 1 - somethingElseShare;
  const shares = codes.map((code, index) => [code, (known * (weights[index] ?? 0)) / sum] as const);
  return {
    shares: sharesOfAll(shares),
    somethingElse: somethingElseShare,
    basis: isOwn ? 'own_tickets' : 'common_practice',
    ticketCount,
  };
}

const perThousandOfAll = faultCodeSchema.options.reduce(
  (sum, code) => sum + faults[code].perThousand,
  0,
);

function tradeShare(code: FaultCode): number {
  return faults[code].perThousand / perThousandOfAll;
}

/** One row for every code, so that the record has them all. */
function sharesOfAll(rows: readonly (readonly [FaultCode, number])[]): Record<FaultCode, number> {
  return Object.fromEntries(rows) as Record<FaultCode, number>;
}

/** The shares of common practice alone. */
export const commonPriors: Priors = priorsFrom({});
