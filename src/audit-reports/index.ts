export { type AuditReport, auditReportSchema } from './contract.ts';
export { countJobs } from './count-jobs.ts';
export { auditReportRoutes } from './routes.ts';
