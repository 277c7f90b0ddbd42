import { appendJournal, type Doer } from '../journal/index.ts';
import { hashOfToken, newToken } from '../platform/access/token.ts';

/** A link by which a password is set, with what is told once and stored nowhere. */
export interface MadeLink {
  token: string;
  expiresAt: Date;
}

/** How long each kind of link opens: the sooner used, the less can happen to it. */
const OPENS_HOURS = { first_owner: 1, invitation: 72, new_password: 24 } as const;

/**
 * Makes a link by which somebody who is locked sets a password, once; the first owner's has nobody
 * yet. An earlier one that still opens is worth nothing from then on.
 */
export async function makeLink(
  doer: Doer,
  purpose: keyof typeof OPENS_HOURS,
  staffId: string | null,
): Promise<MadeLink> {
  const { tx, now } = doer;
  await revokeLinks(doer, staffId);
  const token = newToken();
  const expiresAt = new Date(now.getTime() + OPENS_HOURS[purpose] * 3_600_000);
  const link = await tx.signInLink.create({
    data: {
      ...{ id: doer.newId(), staffId, purpose, tokenHash: hashOfToken(token), createdAt: now },
      ...{ expiresAt, createdById: doer.actor?.id ?? null },
    },
  });
  await appendJournal(doer, {
    event: 'sign_in_link.made',
    subject: { kind: 'sign_in_link', id: link.id },
    after: { purpose, staffId, expiresAt },
  });
  return { token, expiresAt };
}

/** Makes the links of somebody that still open worth nothing. */
export async function revokeLinks({ tx, now }: Doer, staffId: string | null): Promise<void> {
  await tx.signInLink.updateMany({
    where: { staffId, usedAt: null, revokedAt: null },
    data: { revokedAt: now },
  });
}
