import type { Prisma } from '../platform/database/generated/client.ts';
import { endingFacts, endingOf } from '../quote-links/index.ts';
import type { Standing } from './letter.ts';

/** What of a revision tells how it stands. */
export const standingFacts = {
  number: true,
  quote: {
    select: {
      states: { select: { revision: true, state: true } },
      issues: { select: { revision: true, validUntil: true } },
      ...endingFacts,
    },
  },
} as const satisfies Prisma.QuoteRevisionSelect;

type Revision = Prisma.QuoteRevisionGetPayload<{ select: typeof standingFacts }>;

/** How the quote of a paper stands now; undefined of all other papers, which have no revision. */
export function standingOf(revision: Revision | null, now: Date): Standing | undefined {
  if (revision === null) return undefined;
  switch (stateOf(revision)) {
    case 'accepted':
      return 'accepted';
    case 'declined':
      return 'declined';
    case 'withdrawn':
      return 'withdrawn';
    case 'superseded':
      return 'replaced';
    case 'issued':
      return endingOf(revision.quote) ?? (isOver(revision, now) ? 'expired' : 'waits');
    default:
      return undefined;
  }
}

/** The state of one revision, as stored. */
export function stateOf({ number, quote }: Revision): string | undefined {
  return quote.states.find((of) => of.revision === number)?.state;
}

function isOver({ number, quote }: Revision, now: Date): boolean {
  const issue = quote.issues.find((of) => of.revision === number);
  return issue !== undefined && issue.validUntil <= now;
}
