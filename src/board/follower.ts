import { Readable } from 'node:stream';
import { eventFrame, keepAliveFrame, retryFrame } from '../platform/http/event-frame.ts';
import { type BoardEventBody, boardEventSchema } from './contract.ts';
import type { KeptEvents } from './kept-events.ts';
import type { BoardEvent } from './read-events.ts';

/** One client that is told of changes: how far it has come, and the stream it reads. */
export interface Follower {
  readonly stream: Readable;
  /** Tells what is kept and not told yet, as fast as the client reads. */
  tell(): void;
  /** Says that the stream is alive; a client that has read nothing since the last time is dropped. */
  keepAlive(): void;
  /** Ends the stream in good order. */
  end(): void;
  /** Ends it because the same person opened a newer one, and says so: it should not come back. */
  replace(): void;
}

/** Who follows, and from where. */
export interface FollowerStart {
  /** A technician is told of what concerns the own column alone. */
  technicianId?: string;
  after: number;
  /** It is not known what the client has missed, so that it has to read the board again. */
  mustReload: boolean;
}

/**
 * Begins a stream. What waits for a client that does not read is at most what its socket holds and
 * one event: it is only ever a place in what is kept for all. Whoever falls behind that is dropped,
 * and comes back.
 */
export function createFollower(kept: () => KeptEvents, start: FollowerStart): Follower {
  let place = start.after;
  let isFull = false;
  let hasRead = true;
  let isEnded = false;
  const stream = new Readable({
    read: () => {
      isFull = false;
      hasRead = true;
      tell();
    },
    encoding: 'utf8',
  });
  const push = (frame: string) => {
    isFull = !stream.push(frame);
  };
  const isOver = () => isEnded || stream.destroyed;
  push(retryFrame(RETRY_MS));
  if (start.mustReload) push(placeFrame('reload', place));
  return { stream, tell, keepAlive, end, replace };

  function tell(): void {
    const { start: keptFrom, head } = kept();
    if (isOver()) return;
    if (place < keptFrom) return void stream.destroy();
    while (!isFull) {
      const event = kept().nextAfter(place);
      place = event?.position ?? head;
      if (event === undefined) return;
      if (concerns(event, start.technicianId)) push(changedFrame(event));
    }
  }

  function keepAlive(): void {
    if (stream.destroyed) return;
    // Of one that was ended the rest is still to be read.
    if ((isFull || isEnded) && !hasRead) return void stream.destroy();
    hasRead = false;
    if (!isFull && !isEnded) push(keepAliveFrame(String(place)));
  }

  function end(): void {
    if (isOver()) return;
    isEnded = true;
    hasRead = true;
    stream.push(null);
  }

  function replace(): void {
    if (isOver()) return;
    push(placeFrame('replaced', place));
    end();
  }
}

const RETRY_MS = 2_000;

function concerns({ technicianIds }: BoardEvent, technicianId: string | undefined): boolean {
  if (technicianIds === 'everybody') return true;
  return technicianId === undefined || technicianIds.includes(technicianId);
}

function placeFrame(event: 'reload' | 'replaced', place: number): string {
  return eventFrame({ event, id: String(place), data: { position: place } });
}

function changedFrame({ technicianIds: _, ...body }: BoardEvent): string {
  const data: BoardEventBody = boardEventSchema.parse(body);
  return eventFrame({ event: 'changed', id: String(data.position), data });
}
