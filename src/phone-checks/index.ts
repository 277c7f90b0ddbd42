export { type PhoneFacts, phoneFactsOf } from './phone-facts-of.ts';
export { phoneCheckRoutes } from './routes.ts';
