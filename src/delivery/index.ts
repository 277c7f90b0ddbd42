export type { DeliveryDeps, MailCarrier, PaperSource, SourcePaper } from './delivery-deps.ts';
export { deliveryRoutes } from './routes.ts';
export { type Delivering, startDelivering } from './start-delivering.ts';
