import { endedStates } from '../tickets/index.ts';
import { type Chosen, optionsOf, type QuoteIssued } from './quote-issued.ts';

/** Where one issued revision of a quote stands now. */
export type QuoteStanding =
  | { state: 'open' | 'expired'; until: Date }
  | { state: 'accepted'; on: Date; chosen: Chosen }
  /** The yes was taken back within its time, alone or with the quote that this one changes. */
  | { state: 'cancelled'; acceptedOn: Date; on: Date }
  | { state: 'declined' | 'withdrawn'; on: Date }
  | { state: 'replaced'; by: number; on: Date }
  /** Nobody answered before the job was over. */
  | { state: 'ended' }
  /** A change that nobody answered before what it would change was cancelled. */
  | { state: 'parent_cancelled' };

/**
 * Says where a revision stands. The page of a quote says the same to whoever opens it by a link;
 * this looks at one revision instead, because that is the paper that somebody has in hand.
 */
export function quoteStanding(issue: QuoteIssued, now: Date): QuoteStanding {
  const { quote, revision, validUntil } = issue;
  const stored = quote.states.find((of) => of.revision === revision);
  if (stored === undefined) throw new Error('an issued revision has a state');
  switch (stored.state) {
    case 'accepted':
      return accepted(issue);
    case 'declined':
    case 'withdrawn':
      return { state: stored.state, on: stored.changedAt };
    case 'superseded':
      return replaced(issue);
    case 'issued':
      if (endedStates.includes(quote.ticket.state)) return { state: 'ended' };
      if (quote.parent?.acceptance?.cancellation) return { state: 'parent_cancelled' };
      return { state: now < validUntil ? 'open' : 'expired', until: validUntil };
    case 'draft':
      throw new Error('an issued revision is no draft');
  }
}

/** The option that was agreed to. */
export function chosenOf(issue: QuoteIssued): Chosen {
  const chosen = optionsOf(issue).find(({ id }) => id === issue.quote.acceptance?.optionId);
  if (chosen === undefined) throw new Error('an accepted option stands on the paper');
  return chosen;
}

function accepted(issue: QuoteIssued): QuoteStanding {
  const { acceptance } = issue.quote;
  if (acceptance === null) throw new Error('an accepted revision has its yes');
  const { acceptedAt, cancellation } = acceptance;
  if (cancellation === null) return { state: 'accepted', on: acceptedAt, chosen: chosenOf(issue) };
  return { state: 'cancelled', acceptedOn: acceptedAt, on: cancellation.cancelledAt };
}

/** An issued revision gives way to a later one that is issued, and to nothing else. */
function replaced({ quote, revision }: QuoteIssued): QuoteStanding {
  const latest = quote.issues.at(-1);
  if (latest === undefined || latest.revision <= revision) {
    throw new Error('a replaced revision has a successor');
  }
  return { state: 'replaced', by: latest.revision, on: latest.issuedAt };
}
