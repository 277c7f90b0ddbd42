import { z } from 'zod';
import { auditRulesetVersions, factGroups } from '../auditing/index.ts';
import { cents, day, instant, signedCents, text } from '../platform/http/formats.ts';

/** Time of day on the clock of whoever wrote the bill, as `09:05`. */
const clockTime = z.string().regex(/^([01]\d|2[0-3]):[0-5]\d$/);

const hours = z
  .string()
  .regex(/^\d{1,3}(\.\d{1,2})?$/, { error: 'is not a number of hours such as 1.5' });

/** Where the bills of a file come from. */
export const originSchema = z
  .enum(['own', 'other_company'])
  .meta({ description: 'Our own of another time, or of another company.' });

const billedPartSchema = z.strictObject({
  name: text(200),
  quantity: z.number().positive().max(10_000),
  unitCostCents: cents.optional(),
  chargedCents: cents.optional(),
});

/** A bill as it is kept: what it claims, word for word, and its amounts in cents. */
export const billContentSchema = z.strictObject({
  technician: z.string().nullable(),
  complaint: z.string(),
  found: z.string(),
  done: z.string(),
  parts: z.array(billedPartSchema),
  hours: hours.nullable(),
  arrived: clockTime.nullable(),
  left: clockTime.nullable(),
  feeCents: cents.nullable(),
  laborCents: cents.nullable(),
  taxCents: cents.nullable().meta({ description: 'Null where the bill does not tell it apart.' }),
});
export type BillContent = z.infer<typeof billContentSchema>;

/** What our price book comes to for what a bill says was done. */
const fairPriceSchema = z
  .strictObject({
    totalCents: cents,
    fromCents: cents.meta({
      description:
        'The same in the cheapest of our hours, where the bill does not tell when somebody came; ' +
        'else the total.',
    }),
    taxCents: cents,
    lines: z.array(
      z.strictObject({ kind: z.string(), description: z.string(), amountCents: signedCents }),
    ),
    taskCodes: z.array(z.string()),
    choices: z.array(z.string()).meta({
      description:
        'What was chosen where the bill leaves a choice, for the benefit of whoever wrote it.',
    }),
  })
  .meta({
    description:
      'By the price book and policy of today, with our tax in it; before tax where the bill says ' +
      'that there was none, or where no tax rule is on record.',
  });

/** A judgement as it is kept with its bill. */
export const keptJudgementSchema = z.strictObject({
  flags: z.array(
    z.strictObject({
      ruleCode: z.string(),
      severity: z.enum(['owed', 'look', 'record']),
      sentences: z.array(z.string()),
      overCents: cents,
    }),
  ),
  cannotJudge: z.array(
    z.strictObject({ ruleCode: z.string(), missing: z.array(z.enum(factGroups)) }),
  ),
  fair: fairPriceSchema.nullable(),
  notPriced: z.array(z.string()).meta({ description: 'Why there is no fair price.' }),
});
export type KeptJudgement = z.infer<typeof keptJudgementSchema>;

const statement = z.string().meta({ description: 'What has to hold, in one plain sentence.' });

const judgedBySchema = z.strictObject({
  rulesetVersion: z.enum(auditRulesetVersions),
  priceBookId: z.uuid(),
});

const [flagSchema, unjudgedSchema] = [
  keptJudgementSchema.shape.flags.element.extend({ statement }),
  keptJudgementSchema.shape.cannotJudge.element.extend({ statement }),
];

export const importedBillSchema = z.strictObject({
  id: z.uuid(),
  importId: z.uuid(),
  line: z.int().min(1).meta({ description: 'Of the file, on which the bill begins.' }),
  billedOn: day,
  ...billContentSchema.shape,
  chargedCents: cents,
  judgement: z.strictObject({
    overCents: cents.meta({
      description:
        'By how much its charges are more than they would have come to, all flags together.',
    }),
    flags: z.array(flagSchema),
    cannotJudge: z
      .array(unjudgedSchema)
      .meta({ description: 'The rules that miss a fact, and which.' }),
    fair: keptJudgementSchema.shape.fair,
    notPriced: keptJudgementSchema.shape.notPriced,
    judgedBy: judgedBySchema,
  }),
});

export const billImportSchema = z.strictObject({
  id: z.uuid(),
  fileName: z.string(),
  origin: originSchema,
  billCount: z.int().min(1),
  importedAt: instant,
  importedById: z.uuid(),
});

/** Sums may be of ten thousand bills. */
const sumCents = z.int().min(0);

export const judgedImportSchema = billImportSchema.extend({
  summary: z.strictObject({
    chargedCents: sumCents,
    flaggedCount: z.int().min(0),
    overCents: sumCents,
    notPricedCount: z.int().min(0).meta({
      description: 'Bills whose work was not understood, or that the price book cannot price.',
    }),
    rules: z.array(
      z.strictObject({
        ruleCode: z.string(),
        statement,
        flaggedCount: z.int().min(0),
        overCents: sumCents,
        cannotJudgeCount: z.int().min(0),
      }),
    ),
    judgedBy: judgedBySchema,
  }),
});

export const newImportQuery = z.strictObject({
  origin: originSchema,
  fileName: text(200).meta({ description: 'By which people will know the file.' }),
});
