export type { AuditReport } from './contract.ts';
export { auditReportRoutes } from './routes.ts';
