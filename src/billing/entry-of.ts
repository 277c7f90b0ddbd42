import { addCents, type Cents, cents, chargeClassSchema } from '../pricing/index.ts';
import type { PaymentMethod } from './takings-of.ts';

/** One side of an entry: an account is debited or credited, never both. */
export interface Posting {
  readonly account: string;
  readonly debitCents: Cents;
  readonly creditCents: Cents;
}

/** Lines of one jurisdiction, as far as the books depend on them. */
export interface PostedDocument {
  readonly jurisdiction: string;
  readonly lines: readonly { readonly priceClass: string; readonly amountCents: number }[];
}

/** What the bookkeeper hears of. Amounts of credits, refunds and voids are above zero. */
export type Happened =
  | { readonly kind: 'billed'; readonly documents: readonly PostedDocument[] }
  | { readonly kind: 'credited'; readonly documents: readonly PostedDocument[] }
  | { readonly kind: 'paid'; readonly method: PaymentMethod; readonly amountCents: number }
  | { readonly kind: 'voided'; readonly method: PaymentMethod; readonly amountCents: number }
  | { readonly kind: 'refunded'; readonly method: PaymentMethod; readonly amountCents: number }
  | { readonly kind: 'claim_credited'; readonly amountCents: number };

/**
 * The double entry of what happened, by account names that any ledger can map to its own. Debits and
 * credits come to the same, or this throws: an entry that does not balance never leaves. Discounts,
 * adjustments and credits are part of the sales of their class.
 * @returns no postings for what moves no money
 */
export function entryOf(happened: Happened): Posting[] {
  const postings = postingsOf(happened).filter(
    ({ debitCents, creditCents }) => debitCents !== 0 || creditCents !== 0,
  );
  const debits = addCents(postings.map(({ debitCents }) => debitCents));
  const credits = addCents(postings.map(({ creditCents }) => creditCents));
  if (debits !== credits) throw new Error(`an entry debits ${debits} and credits ${credits}`);
  return postings;
}

const RECEIVABLE = 'accounts_receivable';

const PAID_INTO: Record<PaymentMethod, string> = {
  cash: 'cash',
  check: 'undeposited_checks',
  card: 'card_clearing',
  bank_transfer: 'bank',
};

/** A check that we write draws on the bank; those that came in lie there until they are deposited. */
const PAID_FROM: Record<PaymentMethod, string> = { ...PAID_INTO, check: 'bank' };

function postingsOf(happened: Happened): Posting[] {
  switch (happened.kind) {
    case 'billed':
      return sales(happened.documents, 1);
    case 'credited':
      return sales(happened.documents, -1);
    case 'paid':
      return moved(PAID_INTO[happened.method], RECEIVABLE, happened.amountCents);
    case 'voided':
      return moved(RECEIVABLE, PAID_INTO[happened.method], happened.amountCents);
    case 'refunded':
      return moved(RECEIVABLE, PAID_FROM[happened.method], happened.amountCents);
    case 'claim_credited':
      return moved('warranty_credits', 'parts_cost', happened.amountCents);
  }
}

function moved(debited: string, credited: string, amountCents: number): Posting[] {
  return [posting(debited, amountCents), posting(credited, -amountCents)];
}

/** Receivables on one side, sales by class and tax by jurisdiction on the other. */
function sales(documents: readonly PostedDocument[], sign: 1 | -1): Posting[] {
  const amounts = new Map<string, number>();
  for (const { jurisdiction, lines } of documents) {
    for (const { priceClass, amountCents } of lines) {
      const account = accountOf(priceClass, jurisdiction);
      amounts.set(account, (amounts.get(account) ?? 0) - sign * amountCents);
    }
  }
  const totalCents = -addCents([...amounts.values()].map(cents));
  return [
    posting(RECEIVABLE, totalCents),
    ...[...amounts].map(([a, amount]) => posting(a, amount)),
  ];
}

function accountOf(priceClass: string, jurisdiction: string): string {
  if (priceClass === 'tax') return `sales_tax_payable:${jurisdiction}`;
  return SALES[chargeClassSchema.parse(priceClass)];
}

const SALES = {
  visit_fee: 'sales_visit_fees',
  part: 'sales_parts',
  labor: 'sales_labor',
  access: 'sales_access',
} as const;

/** Above zero a debit, below zero a credit. */
function posting(account: string, amountCents: number): Posting {
  return {
    account,
    debitCents: cents(Math.max(amountCents, 0)),
    creditCents: cents(Math.max(-amountCents, 0)),
  };
}
