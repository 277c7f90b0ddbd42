export { describeFinding, observationsAt, type WholeFinding } from './findings-of.ts';
export { isCarried } from './is-carried.ts';
export { momentAtVisit } from './moment-at-visit.ts';
export { refuseOutdated } from './refuse-outdated.ts';
export { replayFindings } from './replay-findings.ts';
export { requireCertificate } from './require-certificate.ts';
export { evidenceRoutes } from './routes.ts';
export { weighAfter } from './weigh-after.ts';
