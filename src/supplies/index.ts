export { supplyRoutes } from './routes.ts';
export { usePart } from './use-part.ts';
