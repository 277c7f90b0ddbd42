import { z } from 'zod';
import { journalTipSchema } from '../journal/index.ts';
import { cents, day, instant } from '../platform/http/formats.ts';

/** The local days of a report, both included. */
export const periodQuery = { from: day, to: day };

const severitySchema = z.enum(['owed', 'look', 'record']).meta({
  description:
    '`owed`: money that goes back. `look`: somebody looks at the job’s file. `record`: a record ' +
    'that is not complete.',
});

/** One thing that has to hold of every job, and on how many of the period it did not. */
const reportedRuleSchema = z.strictObject({
  code: z.string(),
  statement: z.string(),
  source: z.string(),
  severity: severitySchema,
  open: z.int().meta({ description: 'Flags that wait for an answer.' }),
  openCents: cents.meta({ description: 'What those come to, tax included.' }),
  accepted: z.int(),
  givenBackCents: cents,
  dismissed: z.int(),
  judged: z.int().meta({
    description:
      'Jobs with what the rule is about, such as a bill or a reset, on which it was told.',
  }),
  notJudged: z.int().meta({ description: 'Jobs on which it could not be told.' }),
  missing: z.array(z.string()).meta({ description: 'What was not known of those.' }),
});

const shareSchema = z.number().min(0).max(1);

/** How often one of several did something, beside what the others would have with the same. */
const besideOthersSchema = z.strictObject({
  subject: z.string(),
  name: z.string(),
  count: z.int(),
  trials: z.int(),
  comparedCount: z.int().meta({ description: 'Of the kinds that others did too.' }),
  comparedTrials: z.int(),
  expectedCount: z.number().meta({ description: 'What the others would have had on those.' }),
  chance: shareSchema.nullable(),
  adjustedChance: shareSchema.nullable(),
  standing: z.enum(['not_enough_data', 'like_others', 'stands_out']),
  sentence: z.string(),
});
export type BesideOthers = z.infer<typeof besideOthersSchema>;

const patternRowSchema = besideOthersSchema.extend({
  standing: z.enum(['not_enough_data', 'like_others', 'stands_out', 'fewer_than_others']).meta({
    description:
      '`stands_out`: more than the others by more than chance. `fewer_than_others`: of what is good, ' +
      'less than the others by more than chance.',
  }),
  chanceOfFewer: shareSchema.nullable().meta({
    description: 'Of what is good: of so few or fewer, were it all the same who came.',
  }),
  adjustedChanceOfFewer: shareSchema.nullable(),
  shareFrom: shareSchema.nullable().meta({
    description: 'The true share lies from here to `shareTo`, nineteen times of twenty.',
  }),
  shareTo: shareSchema.nullable(),
});

const patternSchema = z.strictObject({
  measure: z.string(),
  by: z.enum(['technician', 'call_taker', 'task', 'part_category', 'month']),
  side: z.enum(['look', 'praise']),
  happened: z.string(),
  among: z.string(),
  rows: z.array(patternRowSchema),
});
export type ReportedPattern = z.infer<typeof patternSchema>;

/** A task of the price book beside the jobs where it was the only one. */
const taskBesideJobsSchema = z.strictObject({
  taskCode: z.string(),
  jobs: z.int(),
  bookMinutes: z.int().meta({ description: 'With the way in.' }),
  medianMinutes: z.number().nullable(),
  interval: z.strictObject({ low: z.number(), high: z.number() }).nullable(),
  chance: shareSchema.nullable(),
  adjustedChance: shareSchema.nullable(),
  standing: z.enum(['not_enough_data', 'like_jobs', 'above_jobs']),
  sentence: z.string(),
});

/** A part of the price book beside what suppliers billed within a year. */
const partBesideBillsSchema = z.strictObject({
  partCode: z.string(),
  name: z.string(),
  bookCents: cents,
  bills: z.int(),
  latestCents: cents.nullable(),
  latestOn: day.nullable(),
  medianCents: cents.nullable(),
  overCents: cents,
  standing: z.enum(['no_bills', 'like_bills', 'above_bills', 'below_bills']),
  sentence: z.string(),
});

/** Readings that look as if nobody had measured, each technician beside the others. */
const readingPatternSchema = z.strictObject({
  what: z.enum(['bunched', 'repeated', 'after_quote']),
  rows: z.array(
    besideOthersSchema.extend({
      readingIds: z.array(z.string()).meta({ description: 'The newest of those counted.' }),
    }),
  ),
});

const amountRowSchema = z.strictObject({
  subject: z.string(),
  name: z.string(),
  jobs: z.int(),
  billedCents: z.int(),
  expectedCents: z.int(),
  times: z.number().nullable(),
  score: z.number().nullable(),
  standing: z.enum(['not_enough_data', 'like_others', 'stands_out']),
});

/** A measure over all jobs, whoever was there. */
const wholeShareSchema = z.strictObject({
  measure: z.string(),
  side: z.enum(['look', 'praise']),
  happened: z.string(),
  among: z.string(),
  count: z.int(),
  trials: z.int(),
  shareFrom: shareSchema.nullable(),
  shareTo: shareSchema.nullable(),
});

/** A job of which a flag waits for an answer. */
const jobToLookAtSchema = z.strictObject({
  ticketId: z.uuid(),
  ticketNumber: z.int(),
  endedOn: day,
  technicianId: z.uuid().nullable(),
  technicianName: z.string().nullable(),
  openCents: cents,
  rules: z.array(z.string()).meta({ description: 'Whatever comes to most first.' }),
  sentence: z.string().meta({ description: 'What the first of its flags says.' }),
});

const putRight = z.int().meta({
  description: 'Jobs that were billed too much, of which the owner has given it back since.',
});
const priceNotJudged = z.int().meta({
  description: 'Jobs with a charge of which it could not be told whether it was a fair price.',
});

const workPricesSchema = z.strictObject({
  work: z.string(),
  jobs: z.int(),
  lowCents: cents.nullable().meta({
    description: 'The lowest that one of these jobs comes to, of those that are not above.',
  }),
  highCents: cents.nullable().meta({
    description: 'The highest, with the tolerance of the policy.',
  }),
  above: z.int(),
  putRight,
  notJudged: priceNotJudged,
  aboveCents: cents,
  fair: z
    .array(z.strictObject({ fromCents: cents, toCents: cents, jobs: z.int() }))
    .meta({ description: 'How many jobs were charged how much, of those that are not above.' }),
});

/** What was charged, tax included, less what was given back. */
const pricesSchema = z.strictObject({
  jobs: z.int().meta({ description: 'Jobs with a charge.' }),
  above: z.int().meta({ description: 'Of those, jobs with an open flag that asks to give back.' }),
  putRight,
  notJudged: priceNotJudged,
  aboveCents: cents,
  works: z.array(workPricesSchema),
  furthest: z
    .array(
      z.strictObject({
        ticketId: z.uuid(),
        ticketNumber: z.int(),
        technicianId: z.uuid().nullable(),
        technicianName: z.string().nullable(),
        work: z.string(),
        chargedCents: cents,
        atMostCents: cents,
      }),
    )
    .meta({ description: 'The jobs that are furthest above.' }),
});

/** Bills that we did not compute, by where they come from. They are in no other figure of a report. */
const importedBillsSchema = z.strictObject({
  origin: z.enum(['own', 'other_company']),
  bills: z.int(),
  chargedCents: z.int(),
  flagged: z.int().meta({ description: 'Bills on which something asks for a look.' }),
  overCents: z.int().meta({
    description: 'By how much they are more than they would have come to, all flags together.',
  }),
  notPriced: z.int().meta({
    description: 'Bills that have no fair price: their work was not understood, or is in no book.',
  }),
  notLookedAt: z.int().meta({
    description: 'Bills that are judged when somebody first opens their import.',
  }),
});

/** What the owner reads of a period. A flag asks for a look at a job’s file; it accuses nobody. */
export const auditReportSchema = z.strictObject({
  from: day,
  to: day,
  madeAt: instant,
  jobs: z.int().meta({ description: 'Jobs that ended in the period and were judged.' }),
  billedCents: z.int(),
  openCents: z.int().meta({
    description: 'What all open flags together come to; two about one charge never add.',
  }),
  toLookAt: z.strictObject({
    jobs: z.int().meta({ description: 'All on which a flag waits for an answer.' }),
    first: z.array(jobToLookAtSchema).meta({
      description: 'The first to open: what comes to most, then the newest.',
    }),
  }),
  shares: z.array(wholeShareSchema),
  rules: z.array(reportedRuleSchema),
  patterns: z.array(patternSchema),
  prices: pricesSchema,
  amounts: z.array(amountRowSchema).meta({ description: 'What was billed, by technician.' }),
  book: z.strictObject({
    number: z.int().meta({ description: 'The price book that is in force now.' }),
    tasks: z.array(taskBesideJobsSchema),
    parts: z.array(partBesideBillsSchema),
  }),
  readings: z.array(readingPatternSchema),
  importedBills: z.array(importedBillsSchema).meta({
    description: 'Imported bills of the period, which are judged apart.',
  }),
  journal: journalTipSchema,
});
export type AuditReport = z.infer<typeof auditReportSchema>;
export type ReportedRule = AuditReport['rules'][number];
