export { dayPlanRoutes } from './routes.ts';
