import type { Actor } from '../platform/access/actor.ts';

/** Whether somebody may see what the price book says goods cost: the owner alone. */
export function seesCosts({ role }: Pick<Actor, 'role'>): boolean {
  return role === 'owner';
}
