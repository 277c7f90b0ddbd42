export { describeFinding, observationsAt, type WholeFinding } from './findings-of.ts';
export { evidenceRoutes } from './routes.ts';
