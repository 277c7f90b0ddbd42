export { type AuditLag, auditLag } from './audit-lag.ts';
export { letterOfMemo } from './letter-of-memo.ts';
export { auditRoutes } from './routes.ts';
export { startAuditing } from './start-auditing.ts';
