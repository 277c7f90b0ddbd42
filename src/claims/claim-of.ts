import type { z } from 'zod';
import { allowedActions, warrantyClaimLifecycle } from '../lifecycles/index.ts';
import { dayText } from '../platform/calendar-day.ts';
import type { Tx } from '../platform/database/database.ts';
import type { Prisma } from '../platform/database/generated/client.ts';
import { versionTag } from '../platform/http/etag.ts';
import { notFound } from '../platform/http/problem.ts';
import { type claimSchema, claimStateSchema } from './contract.ts';

const WHOLE = {
  state: true,
  steps: true,
  partUse: {
    include: {
      visit: { select: { ticketId: true } },
      finding: { include: { equipment: true } },
    },
  },
} satisfies Prisma.WarrantyClaimInclude;
export type WholeClaim = Prisma.WarrantyClaimGetPayload<{ include: typeof WHOLE }>;

/** What a list of claims has to read of each. */
export const wholeClaim = WHOLE;

/**
 * One claim with its steps.
 * @throws ProblemError 404 when there is none
 */
export async function claimOf(prisma: Pick<Tx, 'warrantyClaim'>, id: string): Promise<WholeClaim> {
  const claim = await prisma.warrantyClaim.findUnique({ where: { id }, include: WHOLE });
  if (claim === null) throw notFound('claim');
  return claim;
}

/** A claim as the API shows it, with its tag. */
export function answerClaim(claim: WholeClaim) {
  const body = claimBody(claim);
  return { body, etag: versionTag(body.version) };
}

/** A claim as the API shows it. */
export function claimBody(claim: WholeClaim): z.input<typeof claimSchema> {
  const { partUse } = claim;
  const { equipment } = partUse.finding;
  const state = claimStateSchema.parse(claim.state?.state);
  return {
    id: claim.id,
    partUseId: partUse.id,
    ticketId: partUse.visit.ticketId,
    visitId: partUse.visitId,
    equipment: {
      id: equipment.id,
      kind: equipment.kind,
      maker: equipment.maker,
      model: equipment.model,
      serial: equipment.serial,
    },
    partCode: partUse.partCode,
    newSerial: partUse.serial,
    oldSerial: partUse.oldSerial,
    oldPartAtVisit: partUse.oldPart,
    state,
    allowedActions: allowedActions(warrantyClaimLifecycle, state),
    openedAt: claim.openedAt.toISOString(),
    ...stepsOf(claim),
    version: claim.state?.version ?? 1,
  };
}

type Steps = Pick<z.input<typeof claimSchema>, 'sent' | 'credited' | 'refused' | 'withdrawn'>;

function stepsOf({ steps }: WholeClaim): Steps {
  const of = (step: string) => steps.find((each) => each.step === step);
  const [sent, credited] = [of('sent'), of('credited')];
  const reasonOf = (step: WholeClaim['steps'][number] | undefined) =>
    step ? { reason: step.reason ?? '', happenedOn: dayText(step.happenedOn) } : null;
  return {
    sent: sent
      ? {
          registration: sent.registration ?? '',
          oldPart: sent.oldPart as NonNullable<Steps['sent']>['oldPart'],
          happenedOn: dayText(sent.happenedOn),
        }
      : null,
    credited: credited
      ? {
          amountCents: credited.amountCents ?? 0,
          reference: credited.reference ?? '',
          happenedOn: dayText(credited.happenedOn),
        }
      : null,
    refused: reasonOf(of('refused')),
    withdrawn: reasonOf(of('withdrawn')),
  };
}
