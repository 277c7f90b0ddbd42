export { quoteRoutes } from './routes.ts';
