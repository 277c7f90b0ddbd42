import type { Lifecycle } from './lifecycle.ts';

export type WarrantyClaimState = 'open' | 'sent' | 'credited' | 'refused';
export type WarrantyClaimAction = 'send' | 'credit' | 'refuse';

/** What a maker owes us for a part is asked for once, and ends in a credit or a refusal. */
export const warrantyClaimLifecycle: Lifecycle<WarrantyClaimState, WarrantyClaimAction> = {
  initial: 'open',
  moves: {
    open: { send: 'sent' },
    sent: { credit: 'credited', refuse: 'refused' },
    credited: {},
    refused: {},
  },
};
