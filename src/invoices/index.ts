export { creditCancelled } from './credit-cancelled.ts';
export { creditUncured } from './credit-uncured.ts';
export { openInvoice } from './open-invoice.ts';
export { invoiceRoutes } from './routes.ts';
