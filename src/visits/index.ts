export { partWaitRoutes } from './part-wait-routes.ts';
export { type RecalledFinding, recalledFindings } from './recalled-findings.ts';
export { visitRoutes } from './routes.ts';
export { toldAgreement } from './told-agreement.ts';
export { visitOf } from './visit-of.ts';
