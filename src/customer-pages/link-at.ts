import type { FastifyRequest } from 'fastify';
import { noteAsker } from '../platform/http/note-asker.ts';
import { type LivingLink, linkOf } from '../quote-links/index.ts';
import { tokenFor } from './link-cookie.ts';
import type { PageDeps } from './page-deps.ts';

/** The living link that this device was let in with to the very quote of the address. */
export async function linkAt(
  { db, clock }: PageDeps,
  request: FastifyRequest,
): Promise<LivingLink | undefined> {
  const number = numberIn(request);
  const token = number === undefined ? undefined : tokenFor(request, number);
  const link = await linkOf(db.prisma, token ?? '', clock.now());
  if (link === undefined || link.quoteNumber !== number) return undefined;
  noteAsker(request, { kind: 'customer', id: link.id });
  return link;
}

/** The quote number in the address; an address that cannot be read has none. */
export function numberIn({ params }: FastifyRequest): number | undefined {
  const { number = '' } = (params ?? {}) as { number?: string };
  return /^[1-9]\d{0,8}$/.test(number) ? Number(number) : undefined;
}
