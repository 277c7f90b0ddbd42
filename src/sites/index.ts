export { siteRoutes } from './routes.ts';
