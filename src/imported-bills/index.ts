export { importedBillRoutes } from './routes.ts';
