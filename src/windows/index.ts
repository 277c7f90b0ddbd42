export { windowRoutes } from './routes.ts';
