import { z } from 'zod';

const inBothLanguages = z.strictObject({
  en: z.string().min(1).max(6_000),
  es: z.string().min(1).max(6_000),
});

const calendarDay = z.iso.date();

const shared = {
  /** It applies to a sale of this much and more. */
  appliesFromCents: z.int().min(0).max(2_000_000_000),
  /** Where the rule is written: '16 CFR 429.1'. */
  source: z.string().min(1).max(300),
  title: inBothLanguages,
  text: inBothLanguages,
};

const days = z.int().min(1).max(60);

/** Days that do not count toward the time to cancel. */
const businessDays = {
  /** ISO weekdays: 7 is Sunday. */
  closedWeekdays: z.array(z.int().min(1).max(7)).max(6),
  /** The federal holidays of the United States, the days listed, or both. */
  federalHolidays: z.boolean(),
  holidays: z.array(calendarDay).max(200),
};

/**
 * One rule of consumer protection as data. `cancel_right`: a yes may be taken back for some business
 * days. `written_terms`: what a contract of that size has to say. `notice`: said on every paper.
 */
export const consumerRuleSchema = z.discriminatedUnion('kind', [
  z.strictObject({
    kind: z.literal('cancel_right'),
    ...shared,
    days,
    ...businessDays,
  }),
  z.strictObject({ kind: z.literal('written_terms'), ...shared }),
  z.strictObject({ kind: z.literal('notice'), ...shared }),
]);
export type ConsumerRule = z.infer<typeof consumerRuleSchema>;
export type CancelRight = Extract<ConsumerRule, { kind: 'cancel_right' }>;

/** What has to be kept of a right to cancel to count its days later: all but its words. */
export const cancelTermsSchema = z.strictObject({
  appliesFromCents: shared.appliesFromCents,
  source: shared.source,
  days,
  ...businessDays,
});
export type CancelTerms = z.infer<typeof cancelTermsSchema>;
