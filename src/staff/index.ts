export { ownCustomers, ownSites } from './own-sites.ts';
export { requireTechnician } from './require-technician.ts';
export { staffRoutes } from './routes.ts';
