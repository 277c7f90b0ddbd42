import type { Lifecycle } from './lifecycle.ts';

export type WarrantyClaimState = 'open' | 'sent' | 'credited' | 'refused' | 'withdrawn';
export type WarrantyClaimAction = 'send' | 'withdraw' | 'credit' | 'refuse';

/**
 * What a maker owes us for a part is asked for once, and ends in a credit or a refusal. One that was
 * opened by mistake is withdrawn before the maker has it.
 */
export const warrantyClaimLifecycle: Lifecycle<WarrantyClaimState, WarrantyClaimAction> = {
  initial: 'open',
  moves: {
    open: { send: 'sent', withdraw: 'withdrawn' },
    sent: { credit: 'credited', refuse: 'refused' },
    credited: {},
    refused: {},
    withdrawn: {},
  },
};
