export { type LivingLink, linkOf } from './link-of.ts';
export { quoteLinkRoutes } from './routes.ts';
