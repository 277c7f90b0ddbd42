import { z } from 'zod';
import type { Tx } from '../platform/database/database.ts';
import type { PriceBookVersion } from '../platform/database/generated/client.ts';
import { ProblemError } from '../platform/http/problem.ts';
import {
  type PartTiers,
  type Policy,
  partTiersSchema,
  policySchema,
  type RateInputs,
  rateInputsSchema,
} from '../pricing/index.ts';
import {
  bookAgreementSchema,
  replacementSchema,
  type SchedulePeriod,
  schedulePeriodSchema,
} from './contract.ts';

/** A price book version without its lists of tasks and parts. */
export interface BookHead {
  id: string;
  number: number;
  effectiveFrom: Date;
  publishedAt: Date;
  rates: RateInputs;
  tiers: PartTiers;
  policy: Policy;
  periods: SchedulePeriod[];
  agreements: z.output<typeof bookAgreementSchema>[];
  replacements: z.output<typeof replacementSchema>[];
}

type Books = Pick<Tx, 'priceBookVersion'>;

/**
 * The price book in force at an instant: the latest effective date that has come.
 * @throws ProblemError 409 when none has come yet
 */
export async function bookInForce(prisma: Books, at: Date): Promise<BookHead> {
  const book = await findBookInForce(prisma, at);
  if (book !== undefined) return book;
  throw new ProblemError('no-price-book', 'No price book is in force yet.');
}

/** The same, for who can do without one. */
export async function findBookInForce(prisma: Books, at: Date): Promise<BookHead | undefined> {
  const row = await prisma.priceBookVersion.findFirst({
    where: { effectiveFrom: { lte: at } },
    orderBy: [{ effectiveFrom: 'desc' }, { number: 'desc' }],
  });
  return row === null ? undefined : toHead(row);
}

/** Reads the stored JSON back through the schemas it was checked with when it was published. */
export function toHead(row: PriceBookVersion): BookHead {
  return {
    id: row.id,
    number: row.number,
    effectiveFrom: row.effectiveFrom,
    publishedAt: row.publishedAt,
    rates: rateInputsSchema.parse(row.rates),
    tiers: partTiersSchema.parse(row.tiers),
    policy: policySchema.parse(row.policy),
    periods: z.array(schedulePeriodSchema).parse(row.periods),
    agreements: z.array(bookAgreementSchema).parse(row.agreements),
    replacements: z.array(replacementSchema).parse(row.replacements),
  };
}
