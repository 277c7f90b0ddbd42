export { claimRoutes } from './routes.ts';
