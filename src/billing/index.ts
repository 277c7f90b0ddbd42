export { acceptedDocument } from './accepted-document.ts';
export {
  type Aging,
  type AgingBucket,
  agingBuckets,
  agingOf,
  type OpenBalance,
} from './aging-of.ts';
export { balanceOf, type Money } from './balance-of.ts';
export type { BilledDocument, BilledLine } from './billed-document.ts';
export { type ChargedBefore, centsOf, chargesFor } from './charged-for.ts';
export { type ChargedLine, type Credit, chargedLines } from './charged-lines.ts';
export { type CreditAnswer, type CreditedLine, type CreditRefusal, creditOn } from './credit-on.ts';
export {
  creditsTowardTheRightOne,
  type TowardTheRightOne,
} from './credits-toward-the-right-one.ts';
export { entryOf, type Happened, type PostedDocument, type Posting } from './entry-of.ts';
export { feeDocument } from './fee-document.ts';
export type { UsedGoods } from './gross-as-done.ts';
export { invoiceTotal } from './invoice-total.ts';
export { leftOf } from './left-of.ts';
export { pricedAgain } from './priced-again.ts';
export { statedOf } from './stated-of.ts';
export {
  type MethodTakings,
  type PaymentMethod,
  paymentMethods,
  type Taking,
  type Takings,
  takingsOf,
} from './takings-of.ts';
export { type TaxedDocument, taxOfTheRest } from './tax-of-the-rest.ts';
export {
  type AcceptedWork,
  keyOfUndone,
  type Undone,
  undoneDocument,
} from './undone-document.ts';
