export { auditRoutes } from './routes.ts';
export { startAuditing } from './start-auditing.ts';
