import type { Role } from '../platform/access/actor.ts';

/** Who may turn the second factor on: whoever sees the whole company. */
export const factorRoles: readonly Role[] = ['owner', 'dispatcher'];

/** Whether somebody of a role may have a second factor. */
export function mayHaveFactor(role: Role): boolean {
  return factorRoles.includes(role);
}
