import type { Ticket } from '../platform/database/generated/client.ts';
import type { ActContext } from '../platform/http/route.ts';

/** What the caller said of people is journaled as hashes with the caller's own salt. */
export async function saltOfCaller(
  { tx }: Pick<ActContext, 'tx'>,
  { callerId }: Pick<Ticket, 'callerId'>,
): Promise<Uint8Array> {
  const caller = await tx.customer.findUniqueOrThrow({
    where: { id: callerId },
    select: { journalSalt: true },
  });
  return caller.journalSalt;
}
