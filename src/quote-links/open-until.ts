import type { Prisma } from '../platform/database/generated/client.ts';

/** A link is looked at again for a month at least. */
export const OPENS_FOR_DAYS = 30;
/** Who comes too late still finds the prices that ran out, and with whom to talk. */
const AFTER_VALIDITY_DAYS = 14;
/** From the answer on the page is the receipt. */
const RECEIPT_DAYS = 365;

/** Whose a link is, and what of its quote tells until when it opens. */
export const openFacts = {
  holderPerson: { select: { name: true, language: true } },
  quote: {
    select: {
      number: true,
      issues: { select: { validUntil: true } },
      acceptance: { select: { acceptedAt: true } },
      decline: { select: { declinedAt: true } },
    },
  },
} satisfies Prisma.QuoteLinkInclude;

export type LinkWithFacts = Prisma.QuoteLinkGetPayload<{ include: typeof openFacts }>;

/**
 * Until when a link opens its page: for what it was made for at least, longer than its quote can be
 * answered, and for a year once it is. The guard of answers in the database knows the same times.
 */
export function openUntil({ expiresAt, quote }: LinkWithFacts): Date {
  const answeredAt = quote.acceptance?.acceptedAt ?? quote.decline?.declinedAt;
  const ends = [
    expiresAt,
    ...quote.issues.map(({ validUntil }) => daysAfter(validUntil, AFTER_VALIDITY_DAYS)),
    ...(answeredAt === undefined ? [] : [daysAfter(answeredAt, RECEIPT_DAYS)]),
  ];
  return new Date(Math.max(...ends.map((end) => end.getTime())));
}

export function daysAfter(moment: Date, days: number): Date {
  return new Date(moment.getTime() + days * 86_400_000);
}
