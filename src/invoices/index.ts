export { openInvoice } from './open-invoice.ts';
