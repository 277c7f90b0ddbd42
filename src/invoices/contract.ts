import { z } from 'zod';
import { agingBuckets, paymentMethods } from '../billing/index.ts';
import { confidential } from '../platform/access/confidential.ts';
import { cents, day, instant, signedCents, text } from '../platform/http/formats.ts';
import { chargeClassSchema } from '../pricing/index.ts';

export const invoiceStateSchema = z.enum(['draft', 'issued', 'settled']);

export const moneyMethodSchema = z.enum(paymentMethods);
type MoneyMethod = z.infer<typeof moneyMethodSchema>;

export const documentKindSchema = z.enum(['accepted', 'visit_fee', 'work_not_done']);

const lineKindSchema = z.enum([
  'visit_fee',
  'part',
  'good',
  'labor',
  'access',
  'discount',
  'credit',
  'adjustment',
  'tax',
]);

const positiveCents = cents.min(1);

export const issueRequestSchema = z.strictObject({
  dueInDays: z.int().min(0).max(90).default(0).meta({
    description: 'Days after the day of issue, on the company’s calendar.',
  }),
});

/** Money is cash, or it can be found again by the number on the check or of the transfer. */
function isTraceable({
  method,
  reference,
}: {
  method: MoneyMethod;
  reference?: string | undefined;
}) {
  return method === 'cash' || reference !== undefined;
}
const untraceable = { path: ['reference'], error: 'is needed for anything but cash' };

const moneyFields = {
  method: moneyMethodSchema,
  reference: text(200).optional().meta({
    description: 'The number of the check, or of the card’s or the bank’s receipt.',
  }),
  amountCents: positiveCents,
};

export const newPaymentSchema = z
  .strictObject({
    ...moneyFields,
    paidByName: text(200).optional(),
    receivedAt: instant.optional().meta({ description: 'Now, unless it was taken earlier.' }),
  })
  .refine(isTraceable, untraceable);

export const voidRequestSchema = z.strictObject({ reason: text(500) });

export const newRefundSchema = z
  .strictObject({
    ...moneyFields,
    paidAt: instant.optional().meta({ description: 'Now, unless it was paid earlier.' }),
  })
  .refine(isTraceable, untraceable);

export const memoKindSchema = z.enum([
  'correction',
  'work_not_done',
  'did_not_cure',
  'yes_cancelled',
  'goodwill',
]);

export const newCreditMemoSchema = z.strictObject({
  kind: memoKindSchema.exclude(['did_not_cure', 'yes_cancelled']).meta({
    description:
      'What did not cure is credited by itself when the ticket is closed again, and what a yes ' +
      'sold when it is taken back.',
  }),
  reason: text(500),
  lines: z
    .array(
      z.strictObject({
        document: z.int().min(1).max(1_000).meta({ description: 'Position of the document.' }),
        key: text(400).meta({ description: 'Of a charge; each is named once.' }),
        amountCents: positiveCents.meta({ description: 'Before tax; the tax follows by itself.' }),
      }),
    )
    .min(1)
    .max(200)
    .superRefine(refuseTwice),
});

/** A credit names a charge once: two amounts for one would have to be added by whoever reads it. */
function refuseTwice(
  lines: readonly { document: number; key: string }[],
  context: z.core.$RefinementCtx,
): void {
  const named = new Set<string>();
  for (const [at, { document, key }] of lines.entries()) {
    const charge = `${document} ${key}`;
    if (named.has(charge)) {
      context.addIssue({
        code: 'custom',
        path: [at, 'key'],
        message: 'names a charge that is credited above',
      });
    }
    named.add(charge);
  }
}

export const paymentSchema = z.strictObject({
  id: z.uuid(),
  receiptNumber: z.int(),
  invoiceId: z.uuid(),
  method: moneyMethodSchema,
  reference: z.string().nullable(),
  amountCents: cents,
  paidByName: z.string().nullable(),
  receivedAt: instant,
  recordedById: z.uuid(),
  voided: z.strictObject({ reason: z.string(), voidedAt: instant }).nullable(),
});

/** What an act leaves of its invoice. */
const invoiceAfter = {
  invoiceEtag: z.string().meta({
    description: 'The ETag of the invoice now, for the If-Match of the next act on it.',
  }),
  balanceCents: signedCents.meta({
    description: 'What is owed of the invoice now; below zero, we owe it.',
  }),
};

export const paymentMadeSchema = z.strictObject({ ...paymentSchema.shape, ...invoiceAfter });

export const receiptSchema = z.strictObject({
  ...paymentSchema.shape,
  invoiceEtag: z.string().meta({
    description: 'The ETag of the invoice now, for the If-Match of a void of this payment.',
  }),
  invoiceNumber: z.int(),
  ticketNumber: z.int(),
  invoiceTotalCents: cents,
  balanceAfterCents: signedCents.meta({
    description: 'What was owed after this payment, as the money was recorded; below zero, by us.',
  }),
});

export const refundSchema = z.strictObject({
  id: z.uuid(),
  invoiceId: z.uuid(),
  method: moneyMethodSchema,
  reference: z.string().nullable(),
  amountCents: cents,
  paidAt: instant,
  recordedById: z.uuid(),
});

export const refundMadeSchema = z.strictObject({ ...refundSchema.shape, ...invoiceAfter });

export const creditMemoSchema = z.strictObject({
  id: z.uuid(),
  number: z.int(),
  invoiceId: z.uuid(),
  kind: memoKindSchema,
  reason: z.string(),
  issuedAt: instant,
  issuedById: z
    .uuid()
    .nullable()
    .meta({ description: 'Null where the customer took a yes back at their own link.' }),
  contentHash: z.string(),
  taxCents: cents,
  totalCents: cents,
  lines: z.array(
    z.strictObject({
      document: z.int(),
      key: z.string(),
      class: z.union([chargeClassSchema, z.literal('tax')]),
      description: z.string(),
      amountCents: cents,
    }),
  ),
});

export const creditMemoMadeSchema = z.strictObject({ ...creditMemoSchema.shape, ...invoiceAfter });

const invoiceLineSchema = z.strictObject({
  key: z.string(),
  kind: lineKindSchema,
  class: z.union([chargeClassSchema, z.literal('tax')]),
  description: z.string(),
  aimedAt: z.string().nullable(),
  amountCents: signedCents,
});

const invoiceDocumentSchema = z.strictObject({
  position: z.int().min(1),
  kind: documentKindSchema,
  quoteId: z.uuid().nullable().meta({
    description: 'The accepted quote that is billed, or that work not done is taken off.',
  }),
  visitId: z.uuid().nullable().meta({ description: 'The trip whose fee is billed.' }),
  taxCents: signedCents,
  totalCents: signedCents,
  lines: z.array(invoiceLineSchema),
});

export const invoiceSchema = z.strictObject({
  id: z.uuid(),
  number: z.int().nullable().meta({ description: 'Null until it is issued.' }),
  ticketId: z.uuid(),
  closingId: z.uuid(),
  payerId: z.uuid(),
  state: invoiceStateSchema,
  allowedActions: z.array(z.string()),
  issuedAt: instant.nullable(),
  dueOn: day.nullable(),
  contentHash: z.string().nullable().meta({ description: 'SHA-256 of everything it says.' }),
  documents: z.array(invoiceDocumentSchema).meta({
    description: 'Of a draft, what would be billed if it were issued now.',
  }),
  taxCents: cents,
  totalCents: cents,
  creditedCents: cents,
  paidCents: cents,
  refundedCents: cents,
  balanceCents: signedCents.meta({
    description: 'What is owed; below zero, we owe it. Zero of a draft.',
  }),
  payments: z.array(paymentSchema),
  refunds: z.array(refundSchema),
  creditMemos: z.array(creditMemoSchema),
});

export const invoiceSummarySchema = z.strictObject({
  ...invoiceSchema.pick({
    id: true,
    number: true,
    ticketId: true,
    closingId: true,
    payerId: true,
    state: true,
    issuedAt: true,
    dueOn: true,
  }).shape,
  totalCents: cents.nullable().meta({ description: 'Null until it is issued.' }),
  balanceCents: signedCents.nullable(),
});

/** Of many invoices together, which may come to more than one amount can. */
const sumCents = z.int().min(0);

export const receivablesSchema = z.strictObject({
  asOf: day,
  owedCents: z.record(z.enum(agingBuckets), sumCents).meta({
    description:
      'Of all invoices, by how many days after the day it was due, on the company’s calendar.',
  }),
  owedTotalCents: sumCents,
  owedBackCents: sumCents.meta({
    description: 'Overpaid or credited, and not given back yet; never set off against the rest.',
  }),
  invoices: z
    .array(
      z.strictObject({
        id: z.uuid(),
        number: z.int(),
        ticketId: z.uuid(),
        payerId: z.uuid(),
        payerName: z.string(),
        payerPhone: z.string(),
        dueOn: day,
        daysOverdue: z.int().min(0),
        bucket: z.enum(agingBuckets),
        balanceCents: signedCents,
      }),
    )
    .meta({ description: 'One page of them, the longest due first.' }),
  nextCursor: z.string().nullable(),
});

const takenFields = {
  byMethod: z.record(
    moneyMethodSchema,
    z.strictObject({
      paidCents: cents,
      voidedCents: cents,
      refundedCents: cents,
      netCents: signedCents,
    }),
  ),
  totalCents: signedCents,
};

export const takingsSchema = z.strictObject({
  day,
  ...takenFields,
  byStaff: confidential(
    z.array(z.strictObject({ staffId: z.uuid(), staffName: z.string(), ...takenFields })).meta({
      description:
        'By who wrote the payment or the refund down; a void counts where its payment did.',
    }),
    'takings',
  ),
});
