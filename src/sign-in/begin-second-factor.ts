import { randomBytes } from 'node:crypto';
import type { z } from 'zod';
import { appendJournal } from '../journal/index.ts';
import { sqlOf, type Tx } from '../platform/database/database.ts';
import { inTx } from '../platform/database/in-tx.ts';
import { ProblemError } from '../platform/http/problem.ts';
import type { EntranceContext, EntranceReply } from '../platform/http/route.ts';
import { actorOf } from './actor-of.ts';
import { base32 } from './base32.ts';
import type { beginSecondFactorSchema, begunSecondFactorSchema } from './contract.ts';
import { doerOf } from './doer-of.ts';
import { endSecondFactor } from './end-second-factor.ts';
import { lockStaff } from './lock-staff.ts';
import { otpauthUri } from './otpauth-uri.ts';
import { ownAccount, requireOwnPassword, wrongPassword } from './require-own-password.ts';
import { sealSecret } from './seal-secret.ts';
import { factorInForce } from './second-factor-of.ts';

/**
 * Makes the secret of a second factor for whoever asks and shows their password, and tells it once. It
 * counts only when a code of it is given; one that was begun before it is over.
 * @throws ProblemError 400 for a wrong password, 409 where one is on already, 429 for too many tries
 */
export async function beginSecondFactor(
  context: EntranceContext,
  { password }: z.output<typeof beginSecondFactorSchema>,
): Promise<EntranceReply<z.input<typeof begunSecondFactorSchema>>> {
  const actor = actorOf(context);
  const kept = await ownAccount(context);
  await requireOwnPassword(context, kept, password);
  const secret = randomBytes(SECRET_BYTES);
  return inTx(context.db, async (tx) => {
    const staff = await lockStaff(tx, actor.id);
    if (staff === undefined || staff.isDisabled || staff.hash !== kept.hash) throw wrongPassword();
    if (await factorInForce(sqlOf(tx), actor.id)) throw isOnAlready();
    await endSecondFactor(doerOf(context, tx, actor), actor.id, 'begun_again');
    await keep(context, tx, secret);
    const company = await tx.company.findUnique({ where: { id: 1 } });
    const issuer = company?.name ?? NO_COMPANY_YET;
    const uri = otpauthUri({ secret, issuer, account: staff.email ?? staff.name });
    return { body: { secret: base32(secret), uri } };
  });
}

/** The refusal where a second factor is on, which has to be taken away first. */
export function isOnAlready(): ProblemError {
  return new ProblemError('not-allowed-now', 'Your second factor is on already.', {
    currentState: 'on',
    allowedActions: ['remove'],
  });
}

/** The first owner comes in before the company is set up. */
const NO_COMPANY_YET = 'Evenhand';

/** As long as what HMAC-SHA-1 makes of it (RFC 4226, section 4, R6). */
const SECRET_BYTES = 20;

async function keep(context: EntranceContext, tx: Tx, secret: Uint8Array): Promise<void> {
  const actor = actorOf(context);
  const id = context.newId();
  const sealedSecret = sealSecret(context.factorKey, id, secret);
  await tx.staffSecondFactor.create({
    data: { id, staffId: actor.id, sealedSecret, begunAt: context.now },
  });
  await appendJournal(doerOf(context, tx, actor), {
    event: 'second_factor.begun',
    subject: { kind: 'staff', id: actor.id },
  });
}
