export { supplyRoutes } from './routes.ts';
