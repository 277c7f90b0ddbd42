import type { Tx } from '../platform/database/database.ts';
import type { Prisma } from '../platform/database/generated/client.ts';
import { standingFacts, stateOf } from './standing-of.ts';

/** What one delivery is about, as it stands when it is sent. */
export type DeliveryJob = Prisma.DeliveryGetPayload<{ include: typeof jobFacts }>;

const jobFacts = {
  state: { select: { messageId: true, sentTo: true } },
  customer: { select: { id: true, name: true, email: true, phone: true } },
  paper: {
    include: {
      revision: { select: { quoteId: true, ...standingFacts } },
    },
  },
} as const satisfies Prisma.DeliveryInclude;

export function deliveryJob(prisma: Pick<Tx, 'delivery'>, id: string): Promise<DeliveryJob> {
  return prisma.delivery.findUniqueOrThrow({ where: { id }, include: jobFacts });
}

/** Why a delivery can go nowhere, before anything is tried. */
export function undeliverable({
  cause,
  channel,
  customer,
  paper,
}: DeliveryJob): string | undefined {
  if (channel === 'mail' && !customer.email?.trim()) return 'There is no mail address on file.';
  if (channel === 'text' && !customer.phone.trim()) return 'There is no phone number on file.';
  // Whoever gets a quote that was replaced on the way would answer prices that no longer stand.
  const state = paper.revision === null ? undefined : stateOf(paper.revision);
  if (cause === 'issued' && state === 'superseded') {
    return 'A newer revision took its place before it was sent; that one goes out by itself.';
  }
  if (cause === 'issued' && state === 'withdrawn') {
    return 'The quote was withdrawn before it was sent.';
  }
  return undefined;
}
