import type { Lifecycle } from '../../lifecycles/index.ts';

export type DraftState = 'open' | 'published' | 'dropped';
export type DraftAction = 'change' | 'publish' | 'drop';

/** A draft is worked on until it is published or dropped; then it stays as it was. */
export const draftLifecycle: Lifecycle<DraftState, DraftAction> = {
  initial: 'open',
  moves: {
    open: { change: 'open', publish: 'published', drop: 'dropped' },
    published: {},
    dropped: {},
  },
};
