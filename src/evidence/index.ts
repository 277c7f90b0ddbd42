export { describeFinding, observationsAt, type WholeFinding } from './findings-of.ts';
export { isCarried } from './is-carried.ts';
export { evidenceRoutes } from './routes.ts';
