import type { z } from 'zod';
import type { Tx } from '../platform/database/database.ts';
import type { Prisma } from '../platform/database/generated/client.ts';
import { versionTag } from '../platform/http/etag.ts';
import { notFound } from '../platform/http/problem.ts';
import {
  channelSchema,
  type deliverySchema,
  deliveryStateSchema,
  recipientSchema,
} from './contract.ts';

type DeliveryBody = z.input<typeof deliverySchema>;

/** All that is told of a delivery. */
export const wholeDelivery = {
  state: true,
  customer: { select: { id: true, name: true } },
  paper: { select: { id: true, kind: true, number: true, ticketId: true } },
} as const satisfies Prisma.DeliveryInclude;

export type WholeDelivery = Prisma.DeliveryGetPayload<{ include: typeof wholeDelivery }>;

type Reader = Pick<Tx, 'delivery' | 'staff'>;

/** @throws ProblemError 404 */
export async function deliveryOf(prisma: Reader, id: string): Promise<WholeDelivery> {
  const found = await prisma.delivery.findUnique({ where: { id }, include: wholeDelivery });
  if (found === null) throw notFound('delivery');
  return found;
}

/** A delivery with its entity tag. */
export async function answerDelivery(prisma: Reader, delivery: WholeDelivery) {
  const [body] = await deliveryBodies(prisma, [delivery]);
  if (body === undefined) throw new Error('one delivery has one answer');
  return { body, etag: versionTag(body.version) };
}

/** Deliveries as the API shows them. */
export async function deliveryBodies(
  prisma: Pick<Tx, 'staff'>,
  deliveries: readonly WholeDelivery[],
): Promise<DeliveryBody[]> {
  const askers = await prisma.staff.findMany({
    where: { id: { in: deliveries.flatMap(({ askedById }) => askedById ?? []) } },
    select: { id: true, name: true },
  });
  const nameOf = new Map(askers.map(({ id, name }) => [id, name]));
  return deliveries.map((delivery) => bodyOf(delivery, nameOf));
}

function bodyOf(delivery: WholeDelivery, nameOf: ReadonlyMap<string, string>): DeliveryBody {
  const { id, paper, customer, askedById, state: row } = delivery;
  if (row === null) throw new Error(`delivery ${id} has no state`);
  const state = deliveryStateSchema.parse(row.state);
  return {
    ...{ id, paper, customer, state },
    channel: channelSchema.parse(delivery.channel),
    recipient: recipientSchema.parse(delivery.recipient),
    language: delivery.language === 'es' ? 'es' : 'en',
    cause: delivery.cause === 'issued' ? 'issued' : 'asked',
    askedBy:
      askedById === null ? null : { staffId: askedById, staffName: nameOf.get(askedById) ?? '' },
    createdAt: delivery.createdAt.toISOString(),
    allowedActions: mayRetry(delivery.channel, row) ? ['retry'] : [],
    attempts: row.attempts,
    nextAt: row.nextAt?.toISOString() ?? null,
    sentAt: state === 'sent' ? (row.handedOverAt?.toISOString() ?? null) : null,
    sentTo: row.sentTo,
    reason: row.reason,
    mayHaveArrived: mayHaveArrived(row),
    version: row.version,
  };
}

/**
 * A text that may have arrived is asked for anew instead: under the key of a retry, a gateway that
 * took it sends nothing.
 */
export function mayRetry(channel: string, row: NonNullable<WholeDelivery['state']>): boolean {
  return row.state === 'dead' && !(channel === 'text' && mayHaveArrived(row));
}

/** Handed over, and nobody said no. */
export function mayHaveArrived(row: NonNullable<WholeDelivery['state']>): boolean {
  return row.state === 'dead' && row.handedOverAt !== null && row.answerCode === null;
}
