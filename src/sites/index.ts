export { addSite } from './add-site.ts';
export { newSiteSchema, placeSchema, siteSchema } from './contract.ts';
export { siteRoutes } from './routes.ts';
