import type { z } from 'zod';
import { scriptLanguageSchema } from '../phone-script/index.ts';
import type { Prisma } from '../platform/database/generated/client.ts';
import { versionTag } from '../platform/http/etag.ts';
import type { Reply } from '../platform/http/route.ts';
import { callBackSchema } from './contract.ts';

/** What is read with a call back: whom to call, and about what. */
export const withCaller = {
  ticket: { include: { caller: true } },
} as const satisfies Prisma.CallBackInclude;

export type WholeCallBack = Prisma.CallBackGetPayload<{ include: typeof withCaller }>;

type CallBackBody = z.input<typeof callBackSchema>;

/** A call back as an answer, with its tag. */
export function answerCallBack(callBack: WholeCallBack): Reply<CallBackBody> {
  return { body: callBackBody(callBack), etag: versionTag(callBack.version) };
}

/** A call back with all that whoever makes it needs to know. */
export function callBackBody(callBack: WholeCallBack): CallBackBody {
  const { id, ticketId, ticket, tries, note, nextTicketId, version } = callBack;
  const { caller } = ticket;
  return {
    id,
    ticketId,
    ticketNumber: ticket.number,
    siteId: ticket.siteId,
    callerId: caller.id,
    callerName: caller.name,
    callerPhone: caller.phone,
    callerLanguage: scriptLanguageSchema.safeParse(caller.language).data ?? 'en',
    complaint: ticket.complaint,
    whatHelped: ticket.closingNote,
    dueAt: callBack.dueAt.toISOString(),
    tries,
    outcome: callBackSchema.shape.outcome.parse(callBack.outcome),
    note,
    madeAt: callBack.madeAt?.toISOString() ?? null,
    nextTicketId,
    version,
  };
}
