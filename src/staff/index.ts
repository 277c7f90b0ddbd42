export { staffRoutes } from './routes.ts';
