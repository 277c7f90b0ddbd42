export { creditCancelled } from './credit-cancelled.ts';
export { openInvoice } from './open-invoice.ts';
export { refuseBackdating } from './refuse-backdating.ts';
export { invoiceRoutes } from './routes.ts';
