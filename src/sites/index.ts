export { placeSchema } from './contract.ts';
export { siteRoutes } from './routes.ts';
