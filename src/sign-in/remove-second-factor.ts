import type { z } from 'zod';
import { notFound, ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import type { staffAccessSchema } from './contract.ts';
import { endSecondFactor } from './end-second-factor.ts';
import { endSessions } from './end-sessions.ts';
import { lockStaff } from './lock-staff.ts';
import { isOff } from './remove-own-second-factor.ts';
import { accessOf } from './staff-access.ts';

/**
 * Takes the second factor of somebody else away, whose phone and recovery codes are gone. Whoever has
 * the phone now may be signed in, so their sessions end; they sign in with the password alone.
 * @throws ProblemError 404 for nobody, 409 for the own one and where none is on
 */
export async function removeSecondFactor(
  act: ActContext,
  staffId: string,
): Promise<z.input<typeof staffAccessSchema>> {
  if (staffId === act.actor.id) throw isOwn();
  const staff = await lockStaff(act.tx, staffId);
  if (staff === undefined) throw notFound('person');
  const hadOne = await endSecondFactor(act, staffId, 'by_owner');
  if (!hadOne) throw isOff('They have no second factor.');
  await endSessions(act, staffId, 'second_factor_removed');
  return accessOf(act.tx, staffId, act.now);
}

function isOwn(): ProblemError {
  return new ProblemError(
    'not-allowed-now',
    'This is your own. Remove it with your password and a code.',
    { currentState: 'own', allowedActions: ['remove_own'] },
  );
}
