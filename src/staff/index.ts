export { ownCustomers, ownSites } from './own-sites.ts';
export { staffRoutes } from './routes.ts';
