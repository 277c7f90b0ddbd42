export { erasingRoutes } from './routes.ts';
