import { z } from 'zod';
import { day, instant, text } from '../platform/http/formats.ts';

const rank = z.int().min(1).max(5);

/** A rank by hand, or null, which gives the rank back to the rules. */
export const priorityOverrideSchema = z.strictObject({
  rank: rank.nullable().meta({ description: '1 comes first; null lifts the rank given by hand.' }),
  reason: text(500),
});

export const prioritySchema = z.strictObject({
  ticketId: z.uuid(),
  rank: rank.meta({ description: '1 comes first. By hand where somebody gave one.' }),
  score: z.int().meta({ description: 'Within a rank the higher comes first; minutes of waiting.' }),
  sentence: z.string().meta({ description: 'Why, with the figures.' }),
  byRules: z.strictObject({
    rank,
    reasons: z.array(z.strictObject({ code: z.string(), rank, says: z.string() })),
  }),
  byHand: z.strictObject({ rank, reason: z.string(), byName: z.string(), at: instant }).nullable(),
  waitingSince: instant,
});

export const waitingTicketSchema = z.strictObject({
  ...prioritySchema.shape,
  ticketNumber: z.int(),
  state: z.string(),
  complaint: z.string(),
  symptoms: z.array(z.string()),
  siteId: z.uuid(),
});

export const weatherSchema = z.strictObject({
  highDegF: z
    .number()
    .min(-80)
    .max(150)
    .meta({ description: 'The highest of the day, in the shade.' }),
  relativeHumidityPercent: z.number().min(0).max(100).nullable(),
});

export const newWeatherSchema = z.strictObject({
  highDegF: weatherSchema.shape.highDegF,
  relativeHumidityPercent: z.number().min(0).max(100).optional().meta({
    description: 'At that hour; the temperature alone counts when absent.',
  }),
});

export const dayWeatherSchema = z.strictObject({
  day,
  ...weatherSchema.shape,
  feelsLikeDegF: z.number().meta({
    description:
      'Heat index of the National Weather Service; the temperature where nothing is known of humidity.',
  }),
  category: z.enum(['none', 'caution', 'extreme_caution', 'danger', 'extreme_danger']),
});
