import type { Actor } from '../platform/access/actor.ts';
import type { EntranceContext } from '../platform/http/route.ts';

/** Whoever is signed in at an entrance that is not open to everybody. */
export function actorOf({ actor }: EntranceContext): Actor {
  if (actor === undefined) throw new Error('this entrance is open to everybody and has no actor');
  return actor;
}
