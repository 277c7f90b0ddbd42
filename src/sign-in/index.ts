export { offerFirstLink } from './offer-first-link.ts';
export { signInRoutes } from './routes.ts';
