import type { z } from 'zod';
import type { AuditRun } from '../platform/database/generated/client.ts';
import { auditRunSchema } from './contract.ts';

/** A run as an answer shows it. */
export function runBody(run: AuditRun): z.input<typeof auditRunSchema> {
  const { id, rulesetVersion, cause, total, done, startedAt, finishedAt } = run;
  return {
    ...{ id, rulesetVersion, total, done },
    cause: auditRunSchema.shape.cause.parse(cause),
    startedAt: startedAt.toISOString(),
    finishedAt: finishedAt?.toISOString() ?? null,
  };
}
