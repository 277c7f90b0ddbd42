import type { Tx } from '../platform/database/database.ts';
import type { Visit } from '../platform/database/generated/client.ts';
import { toHead } from '../pricebook/index.ts';
import type { FeeTerms } from './fee-terms.ts';
import { feeAgreementOf, toldFeeCents } from './told-agreement.ts';

/**
 * The terms of a visit whose technician alone is another: as they were told. Only where the new one
 * is at the site on that trip anyway, its fee is that of the trip.
 */
export function termsThatStay(before: Visit, found: FeeTerms): FeeTerms {
  const kept = termsOf(before);
  return found.sameTripAs === null ? kept : { ...kept, ...feeOf(found) };
}

/** The terms of a visit that goes along where the one with the fee of its trip is given away. */
export function termsOfTrip(before: Visit, withFeeId: string): FeeTerms {
  return { ...termsOf(before), sameTripAs: withFeeId };
}

/**
 * The terms of a visit for which we asked for another window: the fee is the lower of that told and
 * that of the new window, and so is the factor on labor. Nobody pays more because we could not come.
 */
export async function neverMore(
  prisma: Pick<Tx, 'priceBookVersion'>,
  before: Visit,
  found: FeeTerms,
): Promise<FeeTerms> {
  const kept = termsOf(before);
  const less = toldFeeCents(found) - toldFeeCents(kept);
  const isFeeOfFound = less < 0 || (less === 0 && found.sameTripAs !== null);
  const factor = (await laborFactorOf(prisma, found)) - (await laborFactorOf(prisma, kept));
  const isPeriodOfFound = factor < 0 || (factor === 0 && isFeeOfFound);
  return {
    ...feeOf(isFeeOfFound ? found : kept),
    ...periodOf(isPeriodOfFound ? found : kept),
  };
}

/** What was told at the booking; the trip it belonged to is another one now. */
function termsOf(visit: Visit): FeeTerms {
  const { feeCents, periodCode, priceBookVersionId } = visit;
  const feeAgreement = feeAgreementOf(visit);
  return { feeCents, feeAgreement, sameTripAs: null, periodCode, priceBookVersionId };
}

function feeOf({ feeCents, feeAgreement, sameTripAs }: FeeTerms) {
  return { feeCents, feeAgreement, sameTripAs };
}

// A period is known by its own price book alone.
function periodOf({ periodCode, priceBookVersionId }: FeeTerms) {
  return { periodCode, priceBookVersionId };
}

async function laborFactorOf(
  prisma: Pick<Tx, 'priceBookVersion'>,
  { periodCode, priceBookVersionId: id }: FeeTerms,
): Promise<number> {
  const { periods } = toHead(await prisma.priceBookVersion.findUniqueOrThrow({ where: { id } }));
  const period = periods.find(({ code }) => code === periodCode);
  if (period === undefined) throw new Error('a visit names a period of its own price book');
  return Number(period.laborFactor);
}
