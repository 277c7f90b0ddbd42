import type { BoardEvent, ReadEvents } from './read-events.ts';

/**
 * The latest stretch of the journal, as far as it concerns boards, in memory: whoever comes back is
 * told from here, and nobody's coming back asks the database for what is known already.
 */
export interface KeptEvents {
  /** It holds every event of the places after `start`, up to and with `head`. */
  readonly start: number;
  readonly head: number;
  /** The event that comes first after a place. */
  nextAfter(place: number): BoardEvent | undefined;
  /** What follows at the head; what is then too far behind it is let go. */
  append(read: ReadEvents): void;
  /** What lies before the start, from a place on. */
  prepend(from: number, events: readonly BoardEvent[]): void;
}

/** @param spanMax how many places behind the head are kept */
export function keepEvents(head: number, spanMax: number): KeptEvents {
  let kept: BoardEvent[] = [];
  let start = head;
  let end = head;
  return {
    get start() {
      return start;
    },
    get head() {
      return end;
    },
    nextAfter: (place) => kept[firstAfter(kept, place)],
    append: ({ events, readTo }) => {
      kept.push(...events);
      end = readTo;
      if (end - spanMax <= start) return;
      start = end - spanMax;
      kept = kept.slice(firstAfter(kept, start));
    },
    prepend: (from, events) => {
      kept = [...events, ...kept];
      start = from;
    },
  };
}

/** By halves: the events stand in the order of their places. */
function firstAfter(events: readonly BoardEvent[], place: number): number {
  let low = 0;
  let high = events.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if ((events[middle]?.position ?? place) > place) high = middle;
    else low = middle + 1;
  }
  return low;
}
