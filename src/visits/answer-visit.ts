import type { z } from 'zod';
import { allowedActions, visitLifecycle } from '../lifecycles/index.ts';
import type { Visit } from '../platform/database/generated/client.ts';
import { versionTag } from '../platform/http/etag.ts';
import type { Reply } from '../platform/http/route.ts';
import { visitPurposeSchema, visitSchema } from './contract.ts';
import { feeAgreementOf, toldFeeCents } from './told-agreement.ts';

type VisitBody = z.input<typeof visitSchema>;

/** A visit as an answer, with its tag. */
export function answerVisit(visit: Visit): Reply<VisitBody> {
  return { body: visitBody(visit), etag: versionTag(visit.version) };
}

/** A visit as an answer shows it. */
export function visitBody(visit: Visit): VisitBody {
  const { priceBookVersionId: _, plannedStart, plannedEnd, ...rest } = visit;
  return {
    ...rest,
    planned: {
      start: (plannedStart ?? visit.windowStart).toISOString(),
      end: (plannedEnd ?? visit.windowEnd).toISOString(),
    },
    purpose: visitPurposeSchema.parse(visit.purpose),
    feeAgreement: feeAgreementOf(visit),
    feeAfterDiscountCents: toldFeeCents(visit),
    moveAskedBy: visitSchema.shape.moveAskedBy.parse(visit.moveAskedBy),
    windowStart: visit.windowStart.toISOString(),
    windowEnd: visit.windowEnd.toISOString(),
    feeAgreedAt: visit.feeAgreedAt.toISOString(),
    arrivedAt: visit.arrivedAt?.toISOString() ?? null,
    leftAt: visit.leftAt?.toISOString() ?? null,
    createdAt: visit.createdAt.toISOString(),
    allowedActions: allowedActions(visitLifecycle, visit.state),
  };
}
