import type { Lifecycle } from './lifecycle.ts';

export type AuditFlagState = 'open' | 'accepted' | 'dismissed' | 'gone';
/** What the owner does. */
export type AuditFlagAction = 'accept' | 'dismiss';
/** What only judging a ticket again does: what a flag says holds no more, or holds again. */
export type AuditFlagTurn = 'lapse' | 'recur';

/** What the owner may do with a flag: answer it, once, while it holds. */
export const auditFlagAnswers: Lifecycle<AuditFlagState, AuditFlagAction> = {
  initial: 'open',
  moves: {
    open: { accept: 'accepted', dismiss: 'dismissed' },
    accepted: {},
    dismissed: {},
    gone: {},
  },
};

/**
 * The whole life of a flag: its answer, and until then the turns of what it rests on. The database
 * holds the same table in check_audit_flag_move() and refuses any other step.
 */
export const auditFlagLifecycle: Lifecycle<AuditFlagState, AuditFlagAction | AuditFlagTurn> = {
  initial: 'open',
  moves: {
    ...auditFlagAnswers.moves,
    open: { ...auditFlagAnswers.moves.open, lapse: 'gone' },
    gone: { recur: 'open' },
  },
};
