export { visitRoutes } from './routes.ts';
export { visitOf } from './visit-of.ts';
