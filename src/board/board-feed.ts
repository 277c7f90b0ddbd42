import type { Readable } from 'node:stream';
import type { Logger } from 'pino';
import type { Actor } from '../platform/access/actor.ts';
import type { Database } from '../platform/database/database.ts';
import { ProblemError } from '../platform/http/problem.ts';
import { createFollower, type Follower } from './follower.ts';
import { keepPlaces, type PlaceBounds } from './keep-places.ts';
import { type KeptEvents, keepEvents } from './kept-events.ts';
import { type BoardEvent, lastSealed, readEvents } from './read-events.ts';

/** Tells every client of this process what changes on the board. */
export interface BoardFeed {
  /**
   * Begins to tell one client; a technician of the own column alone. Who has as many streams as one
   * person may have loses the oldest, which is told so and ended.
   * @param after the place in the journal up to which it knows everything; undefined for none
   * @throws ProblemError 503 when as many follow as one process serves, or it is closing
   */
  follow(who: Who, after: number | undefined): Promise<Readable>;
  /** Ends every stream in good order; nothing runs afterwards. */
  close(): void;
}

type Who = Pick<Actor, 'id' | 'role'>;

// Whoever answers with a stream hands it on from here.
declare module '../platform/http/route.ts' {
  interface StreamContext {
    board: BoardFeed;
  }
}

export interface FeedBounds extends PlaceBounds {
  readEveryMs: number;
  keepAliveEveryMs: number;
  /** Who is further behind, in entries of the journal, reads the board again instead. */
  behindMax: number;
}

export interface FeedDeps {
  db: Pick<Database, 'pool' | 'prisma'>;
  log: Logger;
}

/**
 * Reads the sealed journal for all its clients together, for as long as there is one. The database
 * is asked once a turn, however many follow, and nothing is stored for them anywhere.
 */
export function createBoardFeed(
  { db, log }: FeedDeps,
  bounds: Partial<FeedBounds> = {},
): BoardFeed {
  const { readEveryMs, keepAliveEveryMs, behindMax, ...placeBounds } = { ...BOUNDS, ...bounds };
  const places = keepPlaces(placeBounds);
  const followers = new Set<Follower>();
  let kept: KeptEvents | undefined;
  let joining = 0;
  let isClosed = false;
  let timers: NodeJS.Timeout[] = [];
  // Reading at the head and reading what lies before it take turns.
  let turn: Promise<unknown> = Promise.resolve();
  return { follow, close };

  async function follow(who: Who, after: number | undefined): Promise<Readable> {
    if (isClosed) throw closing();
    let follower: Follower | undefined;
    let isReplaced = false;
    const place = places.take(who, () => {
      isReplaced = true;
      follower?.replace();
    });
    if (place === undefined) {
      const why = 'As many follow the board as this process serves. Try again in a moment.';
      throw new ProblemError('unavailable', why);
    }
    joining += 1;
    try {
      follower = await inTurn(async () => join(await reach(after), who, after));
      follower.stream.once('close', place.leave);
      // By a newer one, while it was looked up what this one missed.
      if (isReplaced) follower.replace();
      return follower.stream;
    } catch (error) {
      place.leave();
      throw error;
    } finally {
      joining -= 1;
      restIfAlone();
    }
  }

  /** Adds a client to those that are told, in the same breath as it is seen what is kept. */
  function join(now: KeptEvents, { id, role }: Who, after: number | undefined): Follower {
    if (isClosed) throw closing();
    const isKnown = after !== undefined && after >= now.start && after <= now.head;
    const follower = createFollower(() => now, {
      ...(role === 'technician' && { technicianId: id }),
      after: isKnown ? after : now.head,
      mustReload: !isKnown,
    });
    followers.add(follower);
    follower.stream.once('close', () => {
      followers.delete(follower);
      restIfAlone();
    });
    return follower;
  }

  /** What is kept, from the wanted place on, unless that is unknown or too far behind. */
  async function reach(after: number | undefined): Promise<KeptEvents> {
    const now = kept ?? keepEvents(await lastSealed(db), behindMax);
    if (kept !== now) keepReading();
    kept = now;
    if (after === undefined) return now;
    // Another process may have told this client more than this one has read.
    if (after > now.head) await readOn(now);
    if (after >= now.start || now.head - after > behindMax) return now;
    now.prepend(after, await stretch(after, now.start));
    return now;
  }

  async function stretch(after: number, upTo: number): Promise<BoardEvent[]> {
    const found: BoardEvent[] = [];
    for (let place = after; place < upTo; ) {
      const { events, readTo } = await readEvents(db, place, Math.min(ENTRIES_MAX, upTo - place));
      // Behind the head nothing is missing; were it so, this would not end.
      if (readTo === place) throw new Error(`the sealed journal has nothing after ${place}`);
      found.push(...events);
      place = readTo;
    }
    return found;
  }

  async function readOn(now: KeptEvents): Promise<void> {
    for (;;) {
      const before = now.head;
      now.append(await readEvents(db, before, ENTRIES_MAX));
      for (const follower of followers) follower.tell();
      if (now.head - before < ENTRIES_MAX) return;
    }
  }

  function keepReading(): void {
    let isReading = false;
    let isFailing = false;
    const read = async () => {
      if (isReading) return;
      isReading = true;
      try {
        await inTurn(async () => kept && readOn(kept));
        isFailing = false;
      } catch (error) {
        // Said once; while the database is away there is nothing to tell.
        if (!isFailing) log.warn({ err: error }, 'the board cannot be followed; trying again');
        isFailing = true;
      } finally {
        isReading = false;
      }
    };
    const reading = setInterval(() => void read(), readEveryMs);
    const telling = setInterval(() => {
      for (const follower of followers) follower.keepAlive();
    }, keepAliveEveryMs);
    timers = [reading, telling];
  }

  function inTurn<T>(work: () => Promise<T>): Promise<T> {
    const done = turn.then(work);
    turn = done.catch(() => undefined);
    return done;
  }

  function restIfAlone(): void {
    if (followers.size === 0 && joining === 0) rest();
  }

  /** Nobody is told any more, so nothing is read. */
  function rest(): void {
    for (const timer of timers) clearInterval(timer);
    timers = [];
    kept = undefined;
  }

  function close(): void {
    isClosed = true;
    for (const follower of followers) follower.end();
    rest();
  }
}

function closing(): ProblemError {
  return new ProblemError('unavailable', 'The service is closing.');
}

const BOUNDS: FeedBounds = {
  readEveryMs: 250,
  // Proxies commonly give up on a connection that says nothing for a minute.
  keepAliveEveryMs: 15_000,
  followersMax: 200,
  followersOfOneMax: 3,
  officePlaces: 20,
  behindMax: 10_000,
};

/** Of the journal, in one statement. */
const ENTRIES_MAX = 1_000;
