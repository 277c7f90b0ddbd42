import { canonicalJson } from '../platform/canonical-json.ts';
import type { Tx } from '../platform/database/database.ts';
import type { KnownFlag } from './known-flag-of.ts';

/** The flags of a ticket as they are stored, with what each is known by. */
export async function storedFlags(
  prisma: Pick<Tx, 'auditFlag'>,
  ticketId: string,
): Promise<(KnownFlag & { id: string })[]> {
  const stored = await prisma.auditFlag.findMany({
    where: { ticketId },
    select: {
      ...{ id: true, ruleCode: true, fingerprint: true, corrections: true, overCents: true },
      state: { select: { state: true } },
    },
  });
  return stored.flatMap(({ corrections, state, ...flag }) =>
    state === null ? [] : [{ ...flag, corrections: canonicalJson(corrections), ...state }],
  );
}
