export { type DangerRow, openDangersAtSite } from './open-dangers-at-site.ts';
export { type PhoneFacts, phoneFactsOf } from './phone-facts-of.ts';
export { phoneCheckRoutes } from './routes.ts';
