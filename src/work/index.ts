export { workRoutes } from './routes.ts';
