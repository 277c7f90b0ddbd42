import type { Lifecycle } from './lifecycle.ts';

export type AuditFlagState = 'open' | 'accepted' | 'dismissed' | 'gone';
export type AuditFlagAction = 'accept' | 'dismiss';

/**
 * A flag is answered once by the owner. Until then it is gone while it does not hold, which the
 * rules say and nobody else.
 */
export const auditFlagLifecycle: Lifecycle<AuditFlagState, AuditFlagAction> = {
  initial: 'open',
  moves: {
    open: { accept: 'accepted', dismiss: 'dismissed' },
    accepted: {},
    dismissed: {},
    gone: {},
  },
};
