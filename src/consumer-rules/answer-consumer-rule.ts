import type { z } from 'zod';
import { consumerRuleSchema } from '../consumer-law/index.ts';
import { dayText } from '../platform/calendar-day.ts';
import type { ConsumerRule } from '../platform/database/generated/client.ts';
import type { consumerRuleAnswerSchema } from './contract.ts';

/** A stored rule as the API shows it. */
export function answerConsumerRule(row: ConsumerRule): z.input<typeof consumerRuleAnswerSchema> {
  return {
    id: row.id,
    jurisdiction: row.jurisdiction,
    code: row.code,
    effectiveFrom: dayText(row.effectiveFrom),
    effectiveTo: row.effectiveTo && dayText(row.effectiveTo),
    content: consumerRuleSchema.parse(row.content),
    standing: row.confirmedBy === null ? 'to_be_confirmed_by_counsel' : 'confirmed_by_counsel',
    confirmedBy: row.confirmedBy,
    createdAt: row.createdAt.toISOString(),
  };
}
