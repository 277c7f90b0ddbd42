import type { z } from 'zod';
import { appendJournal } from '../journal/index.ts';
import type { Role } from '../platform/access/actor.ts';
import { sessionCookie } from '../platform/access/session-cookie.ts';
import { hashOfToken, newToken } from '../platform/access/token.ts';
import { sqlOf, type Tx } from '../platform/database/database.ts';
import { inTx } from '../platform/database/in-tx.ts';
import { ProblemError } from '../platform/http/problem.ts';
import type { EntranceContext, EntranceReply } from '../platform/http/route.ts';
import type { signedInSchema, signInSchema } from './contract.ts';
import { doerOf } from './doer-of.ts';
import { hashPassword, isOutdated, isPassword } from './hash-password.ts';
import { type LockedStaff, lockStaff } from './lock-staff.ts';
import {
  emailKey,
  FORGIVE,
  hashOf,
  paceOfAccount,
  paceOfAddress,
  paceSignIn,
} from './pace-sign-in.ts';

/**
 * Lets somebody in who knows their password, with a session of its own. Who is unknown, who has left,
 * who has no password yet and who mistyped it are answered alike, after the same work.
 * @throws ProblemError 401; 429 where it was tried too often
 */
export async function signIn(
  context: EntranceContext,
  { email, password, carrier }: z.output<typeof signInSchema>,
): Promise<EntranceReply<z.input<typeof signedInSchema>>> {
  const { db, sql, now, origin } = context;
  const account = paceOfAccount(email);
  await paceSignIn(db, [account, paceOfAddress(origin.address)], now);
  const found = await sql.query<Known>(FIND, [emailKey(email)]);
  const known = found.rows[0];
  const isRight = await isPassword(password, known?.hash ?? undefined);
  const renewed =
    isRight && known?.hash && isOutdated(known.hash) ? await hashPassword(password) : undefined;
  return inTx(db, async (tx) => {
    const staff = known && (await lockStaff(tx, known.id));
    // Whoever was disabled or got another password since it was looked at is not let in.
    if (!isRight || staff === undefined || staff.isDisabled || staff.hash !== known?.hash) {
      await noteRefusal(context, tx, known?.id);
      return undefined;
    }
    if (renewed !== undefined) {
      await tx.staffPassword.update({ where: { staffId: staff.id }, data: { hash: renewed } });
    }
    await sqlOf(tx).query(FORGIVE, [hashOf(account.key)]);
    return startSession(context, tx, staff, carrier);
  }).then((answer) => {
    // Thrown when the entry is stored, which a refusal within would take back.
    if (answer === undefined) throw new ProblemError('unauthenticated', WRONG);
    return answer;
  });
}

const WRONG = 'E-mail and password do not belong together. Check both and try again.';

interface Known {
  id: string;
  hash: string | null;
}

const FIND = `
  SELECT s.id, p.hash FROM staff s LEFT JOIN staff_password p ON p.staff_id = s.id
  WHERE lower(s.email) = $1`;

async function noteRefusal(
  context: EntranceContext,
  tx: Tx,
  staffId: string | undefined,
): Promise<void> {
  const subject =
    staffId === undefined
      ? { kind: 'sign_in', id: context.requestId }
      : { kind: 'staff', id: staffId };
  await appendJournal(doerOf(context, tx), { event: 'sign_in.refused', subject });
}

async function startSession(
  context: EntranceContext,
  tx: Tx,
  { id: staffId, name, role }: LockedStaff,
  carrier: 'bearer' | 'cookie',
): Promise<EntranceReply<z.input<typeof signedInSchema>>> {
  const { now, newId } = context;
  const token = newToken();
  const { lastsSeconds, idleSeconds } = lengths[role];
  const after = (seconds: number) => new Date(now.getTime() + seconds * 1_000);
  const expiresAt = after(lastsSeconds);
  const session = await tx.staffSession.create({
    data: {
      ...{ id: newId(), staffId, carrier, tokenHash: hashOfToken(token), startedAt: now },
      ...{ expiresAt, idleSeconds, idleUntil: after(idleSeconds) },
    },
  });
  await appendJournal(doerOf(context, tx, { kind: 'staff', id: staffId, role }), {
    event: 'session.started',
    subject: { kind: 'staff_session', id: session.id },
    after: { staffId, carrier },
  });
  const body = { expiresAt: expiresAt.toISOString(), staff: { id: staffId, name, role } };
  return carrier === 'bearer'
    ? { body: { ...body, token } }
    : { body: { ...body, token: null }, cookie: sessionCookie(token, lastsSeconds) };
}

const HOUR_SECONDS = 3_600;
const DAY_SECONDS = 86_400;

/**
 * How long a session lasts at the longest, and how long unused. Who sees the whole company signs in
 * every day, and anew after an hour away (NIST SP 800-63B-4, section 2.2.3); a technician's phone has
 * a lock of its own and shows only what is theirs (section 2.1.3).
 */
const lengths: Readonly<Record<Role, { lastsSeconds: number; idleSeconds: number }>> = {
  owner: { lastsSeconds: DAY_SECONDS, idleSeconds: HOUR_SECONDS },
  dispatcher: { lastsSeconds: DAY_SECONDS, idleSeconds: HOUR_SECONDS },
  technician: { lastsSeconds: 30 * DAY_SECONDS, idleSeconds: 7 * DAY_SECONDS },
};
