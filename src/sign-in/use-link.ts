import type { z } from 'zod';
import type { Doer } from '../journal/index.ts';
import { sqlOf, type Tx } from '../platform/database/database.ts';
import { inTx } from '../platform/database/in-tx.ts';
import { notFound, wrongField } from '../platform/http/problem.ts';
import type { EntranceContext, EntranceReply } from '../platform/http/route.ts';
import { addStaff } from './add-staff.ts';
import { companyName } from './company-name.ts';
import type { passwordSetSchema, useLinkSchema } from './contract.ts';
import { doerOf } from './doer-of.ts';
import { hashPassword } from './hash-password.ts';
import { type OpenLink, openLink } from './linked-person.ts';
import { lockStaff } from './lock-staff.ts';
import { paceOfAddress, paceSignIn } from './pace-sign-in.ts';
import { requireGoodPassword } from './require-good-password.ts';
import { setPassword } from './set-password.ts';
import { lockFirstOwner, someoneCanSignIn } from './someone-can-sign-in.ts';

type Sent = z.output<typeof useLinkSchema>;

/**
 * Sets the password of whoever a link was made for, once; at the first owner's link there is nobody
 * yet, so whoever opens it says who they are. Signing in comes after.
 * @throws ProblemError 404 for a link that is unknown, used, too old or taken back: which one, nobody
 *   learns; 400 for a weak password
 */
export async function useLink(
  context: EntranceContext,
  sent: Sent,
): Promise<EntranceReply<z.input<typeof passwordSetSchema>>> {
  const { db, sql, now, origin } = context;
  await paceSignIn(db, [paceOfAddress(origin.address)], now);
  const link = await openLink(sql, sent.token, now);
  if (link === undefined) throw notFound('link');
  const company = await companyName(sql);
  requireGoodPassword('/password', sent.password, { ...personOf(link, sent), company });
  const hash = await hashPassword(sent.password);
  return inTx(db, async (tx) => {
    const staffId = link.staff_id ?? (await addFirstOwner(context, tx, sent));
    const staff = await lockStaff(tx, staffId);
    // Of two who use it at once, the second finds it used.
    const spent = await sqlOf(tx).query(SPEND, [link.id, now]);
    if (staff === undefined || staff.isDisabled || spent.rows.length === 0) throw notFound('link');
    const { id, name, role } = staff;
    await setPassword(doerOf(context, tx, { kind: 'staff', id, role }), id, hash, 'by_link');
    return { body: { staff: { id, name, role } } };
  });
}

function personOf({ name, email, staff_id }: OpenLink, sent: Sent) {
  if (staff_id !== null) return { name: name ?? '', email };
  return { name: given(sent.name, '/name'), email: given(sent.email, '/email') };
}

/** The first owner has to say who they are. */
function given(value: string | undefined, field: string): string {
  if (value === undefined) throw wrongField(field, 'missing', 'The first owner says this here.');
  return value;
}

async function addFirstOwner(context: EntranceContext, tx: Tx, sent: Sent): Promise<string> {
  await lockFirstOwner(tx);
  if (await someoneCanSignIn(tx, context.now)) throw notFound('link');
  const doer: Doer = doerOf(context, tx);
  const name = given(sent.name, '/name');
  const email = given(sent.email, '/email');
  const { id } = await addStaff(doer, { name, email, role: 'owner', phone: null });
  return id;
}

const SPEND = `
  UPDATE sign_in_link SET used_at = $2
  WHERE id = $1 AND used_at IS NULL AND revoked_at IS NULL AND expires_at > $2 RETURNING id`;
