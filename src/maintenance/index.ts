export { maintenanceRoutes } from './routes.ts';
