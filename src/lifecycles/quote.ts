import type { Lifecycle } from './lifecycle.ts';

export type QuoteState = 'draft' | 'issued' | 'accepted' | 'declined' | 'withdrawn' | 'superseded';

export type QuoteAction = 'issue' | 'accept' | 'decline' | 'withdraw' | 'supersede';

/**
 * The life of one revision of a quote. Expiry is no state: it is computed from the clock. The
 * database holds the same table in check_quote_state() and refuses any other step.
 */
export const quoteLifecycle: Lifecycle<QuoteState, QuoteAction> = {
  initial: 'draft',
  moves: {
    draft: { issue: 'issued', withdraw: 'withdrawn', supersede: 'superseded' },
    issued: {
      accept: 'accepted',
      decline: 'declined',
      withdraw: 'withdrawn',
      supersede: 'superseded',
    },
    accepted: {},
    declined: {},
    withdrawn: {},
    superseded: {},
  },
};
