import { ProblemError, wrongField } from '../platform/http/problem.ts';
import type { EntranceContext } from '../platform/http/route.ts';
import { isPassword } from './hash-password.ts';
import { paceOfCodes, paceSignIn } from './pace-sign-in.ts';
import { readCode, type TypedCode } from './read-code.ts';
import { openSecret } from './seal-secret.ts';
import type { SecondFactor } from './second-factor-of.ts';
import { stepOfCode } from './step-of-code.ts';

/** A code that is right, and what is used up by it. */
export type RightCode = { factorId: string } & (
  | { kind: 'of_app'; step: number }
  | { kind: 'recovery'; place: number }
);

/**
 * Whether somebody typed a right code, of their app or for when it is gone. Each try is counted before
 * it is looked at, by person. Whether the code was used already shows only when it is spent.
 * @returns undefined for a wrong code
 * @throws ProblemError 429 where it was tried too often
 */
export async function checkCode(
  context: EntranceContext,
  staffId: string,
  factor: SecondFactor,
  typed: string,
): Promise<RightCode | undefined> {
  await paceSignIn(context.db, [paceOfCodes(staffId)], context.now);
  const code = readCode(typed);
  switch (code?.kind) {
    case undefined:
      return undefined;
    case 'of_app':
      return checkCodeOfApp(context, factor, code.digits);
    case 'recovery':
      return checkRecoveryCode(context, factor.id, code);
  }
}

/** The refusal for a code that is wrong, or was good once. */
export function wrongCode(): ProblemError {
  return wrongField('/code', 'wrong_code', WRONG_CODE);
}

/** What to do about a wrong code. */
export const WRONG_CODE = 'This code is wrong or was used already. Wait for the next one.';

/**
 * @throws ProblemError 503 where the key is not the one that the secret was sealed with: then no code
 *   could be told from a wrong one
 */
function checkCodeOfApp(
  { factorKey, now, log }: EntranceContext,
  { id: factorId, sealedSecret }: SecondFactor,
  digits: string,
): RightCode | undefined {
  const secret = openSecret(factorKey, factorId, sealedSecret);
  if (secret === undefined) {
    log.error(
      { factorId },
      'the secret of a second factor does not open with the key of this service',
    );
    throw new ProblemError(
      'unavailable',
      'Codes of the app cannot be checked right now. Use a recovery code.',
    );
  }
  const step = stepOfCode(secret, digits, now);
  return step === undefined ? undefined : { kind: 'of_app', factorId, step };
}

async function checkRecoveryCode(
  { sql }: EntranceContext,
  factorId: string,
  { place, letters }: Extract<TypedCode, { kind: 'recovery' }>,
): Promise<RightCode | undefined> {
  const found = await sql.query<{ hash: string }>(FIND, [factorId, place]);
  const isRight = await isPassword(letters, found.rows[0]?.hash);
  return isRight ? { kind: 'recovery', factorId, place } : undefined;
}

const FIND = `
  SELECT hash FROM staff_recovery_code
  WHERE second_factor_id = $1 AND place = $2 AND used_at IS NULL`;
