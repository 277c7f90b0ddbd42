export { creditCancelled } from './credit-cancelled.ts';
export { documentTitle } from './document-title.ts';
export { paperCompany } from './invoice-paper-of.ts';
export { type InvoiceMoney, readMoney } from './money-of.ts';
export { openInvoice } from './open-invoice.ts';
export { paperDocument } from './paper-document.ts';
export { refuseBackdating } from './refuse-backdating.ts';
export { invoiceRoutes } from './routes.ts';
