import type { z } from 'zod';
import { appendJournal } from '../journal/index.ts';
import type { Role } from '../platform/access/actor.ts';
import { sessionCookie } from '../platform/access/session-cookie.ts';
import { hashOfToken, newToken } from '../platform/access/token.ts';
import type { Tx } from '../platform/database/database.ts';
import { inTx } from '../platform/database/in-tx.ts';
import { ProblemError } from '../platform/http/problem.ts';
import type { EntranceContext, EntranceReply } from '../platform/http/route.ts';
import { WRONG_CODE } from './check-code.ts';
import type { signedInSchema, signInSchema } from './contract.ts';
import { doerOf } from './doer-of.ts';
import { endReplacedSession } from './end-replaced-session.ts';
import { hashPassword, isOutdated, isPassword } from './hash-password.ts';
import { type LockedStaff, lockStaff } from './lock-staff.ts';
import { lookAtCode } from './look-at-code.ts';
import {
  emailKey,
  forgive,
  paceOfAccount,
  paceOfAddress,
  paceOfCodes,
  paceSignIn,
} from './pace-sign-in.ts';
import { programOf } from './program-of.ts';
import { type NotShown, type Shown, spendLookedAt } from './spend-looked-at.ts';

/**
 * Lets somebody in who knows their password, and has a code where their second factor is on, with a
 * session of its own; the one whose cookie the browser gives up for it ends. Who is unknown, who has
 * left, who has no password yet and who mistyped it are answered alike, after the same work.
 * @throws ProblemError 401, with `codeNeeded` where only the code is missing or wrong; 429 where it was
 *   tried too often
 */
export async function signIn(
  context: EntranceContext,
  { email, password, code, carrier }: z.output<typeof signInSchema>,
): Promise<EntranceReply<z.input<typeof signedInSchema>>> {
  const { db, sql, now, origin } = context;
  const account = paceOfAccount(email);
  await paceSignIn(db, [account, paceOfAddress(origin.address)], now);
  const found = await sql.query<Known>(FIND, [emailKey(email)]);
  const known = found.rows[0];
  const isRight = await isPassword(password, known?.hash ?? undefined);
  const renewed =
    isRight && known?.hash && isOutdated(known.hash) ? await hashPassword(password) : undefined;
  const lookedAt =
    isRight && known ? await lookAtCode(context, known.id, code) : { code, right: undefined };
  const answer = await inTx(db, async (tx) => {
    const staff = known && (await lockStaff(tx, known.id));
    // Whoever was disabled or got another password since it was looked at is not let in.
    if (!isRight || staff === undefined || staff.isDisabled || staff.hash !== known?.hash) {
      return refuse(context, tx, 'password_wrong', known?.id);
    }
    const shown = await spendLookedAt(tx, staff.id, lookedAt, now);
    if (shown === 'code_missing' || shown === 'code_wrong') {
      return refuse(context, tx, shown, staff.id);
    }
    if (renewed !== undefined) {
      await tx.staffPassword.update({ where: { staffId: staff.id }, data: { hash: renewed } });
    }
    // Only now: whoever has the password alone must not get another ten codes by it.
    await forgive(tx, [account, paceOfCodes(staff.id)]);
    return startSession(context, tx, staff, carrier, shown);
  });
  // Thrown when the entry is stored, which a refusal within would take back.
  if (typeof answer === 'string') throw refusalOf(answer);
  return answer;
}

type Refused = 'password_wrong' | NotShown;

function refusalOf(why: Refused): ProblemError {
  switch (why) {
    case 'password_wrong':
      return new ProblemError('unauthenticated', WRONG);
    case 'code_missing':
      return new ProblemError('unauthenticated', CODE_MISSING, { codeNeeded: true });
    case 'code_wrong':
      return new ProblemError('unauthenticated', WRONG_CODE, { codeNeeded: true });
  }
}

const WRONG = 'E-mail and password do not belong together. Check both and try again.';
const CODE_MISSING =
  'Send the six digits that your app shows as `code`, or a recovery code, with e-mail and password.';

interface Known {
  id: string;
  hash: string | null;
}

const FIND = `
  SELECT s.id, p.hash FROM staff s LEFT JOIN staff_password p ON p.staff_id = s.id
  WHERE lower(s.email) = $1`;

async function refuse(
  context: EntranceContext,
  tx: Tx,
  cause: Refused,
  staffId: string | undefined,
): Promise<Refused> {
  const subject =
    staffId === undefined
      ? { kind: 'sign_in', id: context.requestId }
      : { kind: 'staff', id: staffId };
  await appendJournal(doerOf(context, tx), { event: 'sign_in.refused', subject, after: { cause } });
  return cause;
}

async function startSession(
  context: EntranceContext,
  tx: Tx,
  { id: staffId, name, role }: LockedStaff,
  carrier: 'bearer' | 'cookie',
  secondFactor: Shown,
): Promise<EntranceReply<z.input<typeof signedInSchema>>> {
  const { now, newId } = context;
  const doer = doerOf(context, tx, { kind: 'staff', id: staffId, role });
  if (carrier === 'cookie') await endReplacedSession(doer, context.shownHash);
  const token = newToken();
  const { lastsSeconds, idleSeconds } = lengths[role];
  const after = (seconds: number) => new Date(now.getTime() + seconds * 1_000);
  const expiresAt = after(lastsSeconds);
  const session = await tx.staffSession.create({
    data: {
      ...{ id: newId(), staffId, carrier, tokenHash: hashOfToken(token), startedAt: now },
      ...{ program: programOf(context.origin.userAgent) ?? null, usedAt: now },
      ...{ expiresAt, idleSeconds, idleUntil: after(idleSeconds) },
    },
  });
  await appendJournal(doer, {
    event: 'session.started',
    subject: { kind: 'staff_session', id: session.id },
    after: { staffId, carrier, secondFactor },
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
