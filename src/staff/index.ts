export { ownCustomers, ownSites } from './own-sites.ts';
export { ownTickets, ownVisits } from './own-visits.ts';
export { requireTechnician } from './require-technician.ts';
export { staffRoutes } from './routes.ts';
