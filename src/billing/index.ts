export { acceptedDocument } from './accepted-document.ts';
export {
  type Aging,
  type AgingBucket,
  agingBuckets,
  agingOf,
  type OpenInvoice,
} from './aging-of.ts';
export { balanceOf, type Money } from './balance-of.ts';
export type { BilledDocument, BilledLine } from './billed-document.ts';
export type { Credit } from './charged-lines.ts';
export { type CreditAnswer, type CreditedLine, type CreditRefusal, creditOn } from './credit-on.ts';
export {
  type ChargedBefore,
  creditsTowardTheRightOne,
  type TowardTheRightOne,
} from './credits-toward-the-right-one.ts';
export { entryOf, type Happened, type PostedDocument, type Posting } from './entry-of.ts';
export { feeDocument } from './fee-document.ts';
export { invoiceTotal } from './invoice-total.ts';
export { leftOf } from './left-of.ts';
export type { UsedGoods } from './not-used.ts';
export { statedOf } from './stated-of.ts';
export {
  type MethodTakings,
  type PaymentMethod,
  paymentMethods,
  type Taking,
  type Takings,
  takingsOf,
} from './takings-of.ts';
export type { TaxedDocument } from './tax-of-the-rest.ts';
export {
  type AcceptedWork,
  type Undone,
  undoneDocument,
  type WorkDone,
} from './undone-document.ts';
