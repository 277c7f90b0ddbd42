import type { Prisma } from '../platform/database/generated/client.ts';

/** What tells where a revision of a quote stands; no person and no text is read. */
export const ofQuote = {
  revision: true,
  issuedAt: true,
  validUntil: true,
  quote: {
    select: {
      id: true,
      number: true,
      states: { select: { revision: true, state: true, changedAt: true } },
      issues: { select: { revision: true, issuedAt: true }, orderBy: { revision: 'asc' } },
      acceptance: {
        select: {
          revision: true,
          optionId: true,
          totalCents: true,
          acceptedAt: true,
          cancellation: { select: { cancelledAt: true } },
        },
      },
      decline: { select: { revision: true, declinedAt: true } },
      parent: {
        select: {
          number: true,
          acceptance: { select: { cancellation: { select: { cancelledAt: true } } } },
        },
      },
      ticket: { select: { state: true } },
      revisions: {
        select: {
          id: true,
          number: true,
          options: { select: { id: true, totalCents: true }, orderBy: { position: 'asc' } },
        },
      },
    },
  },
} as const satisfies Prisma.QuoteIssueSelect;

/** A revision of a quote that was issued, with what became of the quote. */
export type QuoteIssued = Prisma.QuoteIssueGetPayload<{ select: typeof ofQuote }>;

/** An option, by its letter where there are several. */
export interface Chosen {
  letter: string | undefined;
  totalCents: number;
}

/** The revision itself. */
export function revisionOf({ quote, revision }: QuoteIssued) {
  const found = quote.revisions.find(({ number }) => number === revision);
  if (found === undefined) throw new Error('what was issued is a revision');
  return found;
}

/** The options of the revision in the order in which they are offered, with their ids. */
export function optionsOf(issue: QuoteIssued): (Chosen & { id: string })[] {
  const { options } = revisionOf(issue);
  return options.map(({ id, totalCents }, at) => ({
    ...{ id, totalCents },
    letter: options.length > 1 ? 'ABC'[at] : undefined,
  }));
}
