import type { Actor } from '../platform/access/actor.ts';

/** How many clients one process serves, and who of them. */
export interface PlaceBounds {
  /** Of all together. */
  followersMax: number;
  /** Of one person: the tabs and devices that somebody looks at. */
  followersOfOneMax: number;
  /** Of `followersMax`, those that technicians never take. */
  officePlaces: number;
}

/** A place among those that are served. */
export interface Place {
  /** Lets somebody else have it; again does nothing. */
  leave(): void;
}

/** The places of one process, in memory. */
export interface Places {
  /**
   * Takes a place. Who has as many as one person may have gives up the oldest for it, however full it
   * is: whoever lost a connection comes back before we know that the old one is dead.
   * @param giveWay called when this place in turn goes to a newer client of the same person
   * @returns undefined where there is none
   */
  take(actor: Pick<Actor, 'id' | 'role'>, giveWay: () => void): Place | undefined;
}

/** Keeps who has which place; nobody’s many clients take those of others. */
export function keepPlaces({ followersMax, followersOfOneMax, officePlaces }: PlaceBounds): Places {
  // In the order in which they were taken.
  const taken = new Set<Taken>();
  return { take };

  function take({ id, role }: Pick<Actor, 'id' | 'role'>, giveWay: () => void): Place | undefined {
    const isTechnician = role === 'technician';
    const own = [...taken].filter(({ actorId }) => actorId === id);
    const oldest = own.length >= followersOfOneMax ? own[0] : undefined;
    if (oldest === undefined && isFull(isTechnician)) return undefined;
    if (oldest !== undefined) taken.delete(oldest);
    const place = { actorId: id, isTechnician, giveWay };
    taken.add(place);
    oldest?.giveWay();
    return { leave: () => void taken.delete(place) };
  }

  function isFull(isTechnician: boolean): boolean {
    if (taken.size >= followersMax) return true;
    if (!isTechnician) return false;
    const technicians = [...taken].filter((each) => each.isTechnician).length;
    return technicians >= followersMax - officePlaces;
  }
}

interface Taken {
  actorId: string;
  isTechnician: boolean;
  giveWay(): void;
}
