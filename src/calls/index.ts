export { callRoutes } from './routes.ts';
