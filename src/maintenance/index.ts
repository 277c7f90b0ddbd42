export { countDue } from './count-due.ts';
export { maintenanceRoutes } from './routes.ts';
