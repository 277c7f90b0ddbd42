export {
  type VisitPurpose,
  visitFeeQuoteSchema,
  visitPurposeSchema,
  visitStateSchema,
} from './contract.ts';
export { isCoveredByAnother } from './covering-visit.ts';
export { feeTerms } from './fee-terms.ts';
export { partWaitRoutes } from './part-wait-routes.ts';
export { type RecalledFinding, recalledFindings } from './recalled-findings.ts';
export { purposesOf } from './refuse-purpose.ts';
export { holdVisits, type Replanned, replanVisits } from './replan-visits.ts';
export { visitRoutes } from './routes.ts';
export { tellVisitFee } from './tell-visit-fee.ts';
export { toldAgreement, toldFeeCents } from './told-agreement.ts';
export { visitOf } from './visit-of.ts';
