import type { Lifecycle } from './lifecycle.ts';

export type PriceBookDraftState = 'open' | 'published' | 'dropped';
export type PriceBookDraftAction = 'change' | 'publish' | 'drop';

/** A draft is worked on until it is published or dropped; then it stays as it was. */
export const priceBookDraftLifecycle: Lifecycle<PriceBookDraftState, PriceBookDraftAction> = {
  initial: 'open',
  moves: {
    open: { change: 'open', publish: 'published', drop: 'dropped' },
    published: {},
    dropped: {},
  },
};
