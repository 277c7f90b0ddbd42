import type { Doer } from '../journal/index.ts';

export type Channel = 'mail' | 'text';

/** As whom of a site somebody gets a paper. */
export type Recipient = 'occupant' | 'approver' | 'payer';

export interface NewDelivery {
  paperId: string;
  channel: Channel;
  recipient: Recipient;
  customer: { id: string; language: string };
  /** `issued` goes out by itself with the paper; `asked` was asked for. */
  cause: 'issued' | 'asked';
  /** Who of our staff asked; nobody of them where the customer did. */
  askedById?: string | undefined;
}

/**
 * Puts one delivery into the outbox, in the transaction of whatever it belongs to.
 * @returns its id
 */
export async function enqueueDelivery(
  { tx, now, newId }: Pick<Doer, 'tx' | 'now' | 'newId'>,
  { paperId, channel, recipient, customer, cause, askedById }: NewDelivery,
): Promise<string> {
  const id = newId();
  await tx.delivery.create({
    data: {
      ...{ id, paperId, channel, recipient, cause },
      customerId: customer.id,
      language: customer.language === 'es' ? 'es' : 'en',
      askedById: askedById ?? null,
      createdAt: now,
      state: { create: { nextAt: now, changedAt: now } },
    },
  });
  return id;
}
