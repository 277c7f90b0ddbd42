export { customerRoutes } from './routes.ts';
