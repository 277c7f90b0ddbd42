export { complaintGoneSchema } from './contract.ts';
export { recordWork } from './record-work.ts';
export { workRoutes } from './routes.ts';
