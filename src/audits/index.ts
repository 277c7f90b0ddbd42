export { type AuditLag, auditLag } from './audit-lag.ts';
export { type MemoMail, mailOfMemo } from './mail-of-memo.ts';
export { auditRoutes } from './routes.ts';
export { startAuditing } from './start-auditing.ts';
