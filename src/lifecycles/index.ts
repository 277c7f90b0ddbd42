export {
  type AuditFlagAction,
  type AuditFlagState,
  type AuditFlagTurn,
  auditFlagAnswers,
  auditFlagLifecycle,
} from './audit-flag.ts';
export {
  type InvoiceAction,
  type InvoiceState,
  invoiceActions,
  invoiceLifecycle,
} from './invoice.ts';
export { allowedActions, type Lifecycle, type Move, move } from './lifecycle.ts';
export {
  type PriceBookDraftAction,
  type PriceBookDraftState,
  priceBookDraftLifecycle,
} from './price-book-draft.ts';
export { type QuoteAction, type QuoteState, quoteLifecycle } from './quote.ts';
export { type TicketAction, type TicketState, ticketLifecycle } from './ticket.ts';
export { type VisitAction, type VisitState, visitLifecycle } from './visit.ts';
export {
  type WarrantyClaimAction,
  type WarrantyClaimState,
  warrantyClaimLifecycle,
} from './warranty-claim.ts';
