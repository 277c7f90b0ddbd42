import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  acceptedDocument,
  balanceOf,
  entryOf,
  type Happened,
  invoiceTotal,
  type PostedDocument,
  paymentMethods,
} from '../../src/billing/index.ts';
import { NotCentsError } from '../../src/pricing/index.ts';
import { line, workedLines } from './worked-bill.ts';

const county = 'Example County';

describe('the bookkeeper’s entry', () => {
  it.each<{ name: string; happened: Happened; amounts: Record<string, number> }>([
    {
      name: 'of the published invoice: sales by class, net of the discount, and the tax apart',
      happened: {
        kind: 'billed',
        documents: [{ jurisdiction: county, lines: workedLines(994) }],
      },
      amounts: {
        accounts_receivable: 39_304,
        sales_visit_fees: -8_900,
        sales_parts: -12_045,
        sales_labor: -17_365,
        [`sales_tax_payable:${county}`]: -994,
      },
    },
    {
      name: 'of a bill with access, and with work that was taken off it again',
      happened: {
        kind: 'billed',
        documents: [
          { jurisdiction: county, lines: [line('access:system-1:panels', 2_516)] },
          {
            jurisdiction: county,
            lines: [{ priceClass: 'access', amountCents: -516 }],
          },
        ],
      },
      amounts: { accounts_receivable: 2_000, sales_access: -2_000 },
    },
    {
      name: 'of documents of two places: each tax is owed to its own',
      happened: {
        kind: 'billed',
        documents: [
          { jurisdiction: county, lines: [line('part:a', 100), line('tax', 8)] },
          { jurisdiction: 'Other County', lines: [line('part:b', 200), line('tax', 14)] },
        ],
      },
      amounts: {
        accounts_receivable: 322,
        sales_parts: -300,
        [`sales_tax_payable:${county}`]: -8,
        'sales_tax_payable:Other County': -14,
      },
    },
    {
      name: 'of a credit memo for the contactor: sale and tax go back, not to an expense',
      happened: {
        kind: 'credited',
        documents: [{ jurisdiction: county, lines: [line('part:a', 6_525), line('tax', 539)] }],
      },
      amounts: {
        accounts_receivable: -7_064,
        sales_parts: 6_525,
        [`sales_tax_payable:${county}`]: 539,
      },
    },
    {
      name: 'of cash taken',
      happened: { kind: 'paid', method: 'cash', amountCents: 500 },
      amounts: { cash: 500, accounts_receivable: -500 },
    },
    {
      name: 'of a check, which is not in the bank yet',
      happened: { kind: 'paid', method: 'check', amountCents: 500 },
      amounts: { undeposited_checks: 500, accounts_receivable: -500 },
    },
    {
      name: 'of a card, which its clearing still owes us',
      happened: { kind: 'paid', method: 'card', amountCents: 500 },
      amounts: { card_clearing: 500, accounts_receivable: -500 },
    },
    {
      name: 'of a transfer',
      happened: { kind: 'paid', method: 'bank_transfer', amountCents: 500 },
      amounts: { bank: 500, accounts_receivable: -500 },
    },
    {
      name: 'of money given back by a check of ours, which draws on the bank',
      happened: { kind: 'refunded', method: 'check', amountCents: 500 },
      amounts: { accounts_receivable: 500, bank: -500 },
    },
    {
      name: 'of money given back by card, or by transfer',
      happened: { kind: 'refunded', method: 'card', amountCents: 500 },
      amounts: { accounts_receivable: 500, card_clearing: -500 },
    },
    {
      name: 'of a check that came back: it is owed again',
      happened: { kind: 'voided', method: 'check', amountCents: 500 },
      amounts: { accounts_receivable: 500, undeposited_checks: -500 },
    },
    {
      name: 'of cash given back',
      happened: { kind: 'refunded', method: 'cash', amountCents: 500 },
      amounts: { accounts_receivable: 500, cash: -500 },
    },
    {
      name: 'of what a maker credited: a part cost less, the customer owes as before',
      happened: { kind: 'claim_credited', amountCents: 2_175 },
      amounts: { warranty_credits: 2_175, parts_cost: -2_175 },
    },
    {
      name: 'of a bill of nothing is none',
      happened: {
        kind: 'billed',
        documents: [{ jurisdiction: county, lines: [line('part:a', 0)] }],
      },
      amounts: {},
    },
  ])('$name', ({ happened, amounts }) => {
    const postings = entryOf(happened);
    for (const { debitCents, creditCents } of postings) {
      expect(Math.min(debitCents, creditCents)).toBe(0);
      expect(Math.max(debitCents, creditCents)).toBeGreaterThan(0);
    }
    expect(movedOn([postings])).toEqual(amounts);
  });

  it('is refused for a line of a class that has no account', () => {
    const lines = [{ priceClass: 'financing', amountCents: 1 }];
    const documents = [{ jurisdiction: county, lines }];
    expect(() => entryOf({ kind: 'billed', documents })).toThrow('Invalid option');
  });

  it('is refused for a fraction of a cent', () => {
    const paid: Happened = { kind: 'paid', method: 'cash', amountCents: 0.5 };
    expect(() => entryOf(paid)).toThrow(NotCentsError);
  });
});

describe('the entries of an invoice’s whole life', () => {
  it('each debit as much as they credit, and together leave exactly its balance as receivable', () => {
    fc.assert(
      fc.property(arbitraryLife, ({ documents, credits, money }) => {
        const happened: Happened[] = [
          { kind: 'billed', documents },
          ...credits.map((lines): Happened => {
            return { kind: 'credited', documents: [{ jurisdiction: county, lines }] };
          }),
          ...money,
        ];
        const entries = happened.map(entryOf);
        for (const entry of entries) expect(sumOf(Object.values(movedOn([entry])))).toBe(0);
        const { totalCents } = invoiceTotal(documents.map(({ lines }) => acceptedDocument(lines)));
        const sumOfKind = (kind: Happened['kind']) =>
          sumOf(money.map((each) => (each.kind === kind ? each.amountCents : 0)));
        const balance = balanceOf({
          totalCents,
          creditedCents: sumOf(credits.flat().map(({ amountCents }) => amountCents)),
          paidCents: sumOfKind('paid') - sumOfKind('voided'),
          refundedCents: sumOfKind('refunded'),
        });
        const { accounts_receivable: receivable = 0 } = movedOn(entries);
        expect(receivable).toBe(balance);
      }),
    );
  });
});

type Moved = {
  readonly account: string;
  readonly debitCents: number;
  readonly creditCents: number;
};

/** Debits less credits by account; what comes to nothing is left out. */
function movedOn(entries: readonly (readonly Moved[])[]): Record<string, number> {
  const amounts = new Map<string, number>();
  for (const { account, debitCents, creditCents } of entries.flat()) {
    amounts.set(account, (amounts.get(account) ?? 0) + debitCents - creditCents);
  }
  return Object.fromEntries([...amounts].filter(([, amount]) => amount !== 0));
}

function sumOf(amounts: readonly number[]): number {
  return amounts.reduce((sum, amount) => sum + amount, 0);
}

const kinds = fc.constantFrom('visit_fee', 'part:a', 'labor:a', 'access:a:b', 'tax');
const amount = fc.integer({ min: 0, max: 100_000 });
const arbitraryLines = fc.array(
  fc.tuple(kinds, amount).map(([key, amountCents]) => line(key, amountCents)),
  { maxLength: 8 },
);

const arbitraryDocument = fc.record({
  jurisdiction: fc.constantFrom(county, 'Other County'),
  lines: arbitraryLines,
}) satisfies fc.Arbitrary<PostedDocument>;

const arbitraryLife = fc.record({
  documents: fc.array(arbitraryDocument, { maxLength: 4 }),
  credits: fc.array(arbitraryLines, { maxLength: 3 }),
  money: fc.array(
    fc.record({
      kind: fc.constantFrom('paid' as const, 'voided' as const, 'refunded' as const),
      method: fc.constantFrom(...paymentMethods),
      amountCents: fc.integer({ min: 1, max: 100_000 }),
    }),
    { maxLength: 8 },
  ),
});
