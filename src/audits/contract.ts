import { z } from 'zod';
import { factGroups } from '../auditing/index.ts';
import { cents, day, instant, text, version } from '../platform/http/formats.ts';

const severitySchema = z.enum(['owed', 'look', 'record']).meta({
  description:
    '`owed`: money goes back; `look`: somebody looks at the file; `record`: a record is not complete.',
});
export const flagStateSchema = z.enum(['open', 'accepted', 'dismissed', 'gone']).meta({
  description: '`gone` is what no longer holds; it is open again as soon as it does.',
});

const ruleSchema = z.strictObject({
  code: z.string(),
  statement: z.string().meta({ description: 'What has to hold.' }),
  severity: severitySchema,
  source: z.string(),
});

const missingSchema = z
  .array(z.enum(factGroups))
  .meta({ description: 'What would have to be known to hold this rule against it.' });

const countSchema = z.strictObject({ count: z.int().min(0), overCents: cents });

export const auditRunSchema = z.strictObject({
  id: z.uuid(),
  rulesetVersion: z.string(),
  cause: z.enum(['ruleset', 'asked']),
  total: z.int().min(0),
  done: z.int().min(0),
  startedAt: instant,
  finishedAt: instant.nullable(),
});

export const auditPeriodQuery = z.strictObject({
  from: day.optional().meta({ description: 'The first local day on which a ticket ended.' }),
  to: day.optional().meta({ description: 'The last one.' }),
});

export const auditSummarySchema = z.strictObject({
  rulesetVersion: z.string(),
  tickets: z.strictObject({
    ended: z.int().min(0).meta({ description: 'In the period.' }),
    judged: z.int().min(0),
    flagged: z.int().min(0).meta({ description: 'With an open flag.' }),
  }),
  overCents: cents.meta({
    description:
      'What all flags that hold come to, dismissed ones too; two rules about one charge count once.',
  }),
  openCents: cents.meta({
    description: 'What of that waits for an answer: without the flags that were dismissed.',
  }),
  givenBackCents: cents.meta({ description: 'By the flags that were accepted.' }),
  rules: z.array(
    ruleSchema.extend({
      open: countSchema.meta({
        description: 'Where two rules speak about one charge, each has its amount here.',
      }),
      accepted: countSchema,
      dismissed: countSchema,
      cannotJudge: z.strictObject({ tickets: z.int().min(0), missing: missingSchema }),
    }),
  ),
  runs: z.array(auditRunSchema).meta({ description: 'The latest first; at most one goes on.' }),
});

const correctionSchema = z.strictObject({
  invoiceId: z.string(),
  document: z.int(),
  key: z.string(),
  toCents: z.int().meta({ description: 'What should be left of this charge.' }),
});

export const flagSchema = z.strictObject({
  id: z.uuid(),
  ticketId: z.uuid(),
  ticketNumber: z.int(),
  endedAt: instant.nullable(),
  rule: ruleSchema,
  sentences: z.array(z.string()),
  corrections: z.array(correctionSchema),
  overCents: cents.meta({ description: 'What they come to with their tax; 0 for a look alone.' }),
  rulesetVersion: z.string(),
  raisedAt: instant,
  state: flagStateSchema,
  allowedActions: z.array(z.string()),
  answer: z
    .strictObject({
      answer: z.enum(['accepted', 'dismissed']),
      reason: z.string().nullable(),
      answeredAt: instant,
      answeredById: z.uuid(),
      creditMemos: z.array(
        z.strictObject({
          id: z.uuid(),
          number: z.int(),
          invoiceId: z.uuid(),
          totalCents: cents,
        }),
      ),
      letter: z.strictObject({ language: z.enum(['en', 'es']), text: z.string() }).nullable(),
    })
    .nullable(),
  version,
});

export const acceptFlagSchema = z.strictObject({
  note: text(1_000).optional().meta({ description: 'For the record; no customer reads it.' }),
});

export const dismissFlagSchema = z.strictObject({
  reason: text(1_000).meta({ description: 'Why everything stays as it is.' }),
});

export const ticketAuditSchema = z.strictObject({
  ticketId: z.uuid(),
  ended: z.enum(['closed', 'cancelled', 'resolved_by_phone']),
  endedAt: instant,
  rulesetVersion: z.string(),
  documents: z.array(
    z.strictObject({
      invoiceId: z.uuid(),
      position: z.int(),
      title: z.string(),
      charges: z.array(
        z.strictObject({
          key: z.string(),
          description: z.string(),
          billedCents: z.int(),
          leftCents: z.int().meta({ description: 'After discounts and what was given back.' }),
          wouldBeCents: z.int().meta({ description: 'What the rules together leave of it.' }),
        }),
      ),
      taxLeftCents: z.int(),
      taxWouldBeCents: z.int(),
    }),
  ),
  overCents: cents,
  rules: z.array(
    ruleSchema.extend({
      outcome: z.enum(['clear', 'cannot_judge', 'flagged']),
      missing: missingSchema,
      sentences: z.array(z.string()),
      corrections: z.array(correctionSchema),
      overCents: cents,
      flagId: z.uuid().nullable().meta({ description: 'As soon as the flag is stored.' }),
    }),
  ),
});
