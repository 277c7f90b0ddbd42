import type { Counted } from '../statistics/compare-with-others.ts';

/** Counts readings by technician and kind; it grows with those alone, not with readings. */
export function readingCounter(): ReadingCounter {
  const by = new Map<string, Open>();
  return {
    by,
    count(technicianId: string, kind: string, countedIds: readonly string[]): void {
      const open = by.get(technicianId) ?? startOf(technicianId);
      by.set(technicianId, open);
      const cell = open.counted.kinds[kind] ?? { trials: 0, count: 0 };
      const isCounted = countedIds.length > 0;
      open.counted.kinds[kind] = {
        trials: cell.trials + 1,
        count: cell.count + (isCounted ? 1 : 0),
      };
      if (isCounted) open.readingIds = [...open.readingIds, ...countedIds].slice(-IDS_MAX);
    },
    know(technicianId: string): void {
      if (!by.has(technicianId)) by.set(technicianId, startOf(technicianId));
    },
  };
}

export interface ReadingCounter {
  readonly by: ReadonlyMap<string, CountedReadings>;
  /** One more reading, or pair of them; `countedIds` are those that count, none where it does not. */
  readonly count: (technicianId: string, kind: string, countedIds: readonly string[]) => void;
  /** Somebody whose readings gave nothing to count is on the page all the same. */
  readonly know: (technicianId: string) => void;
}

/** What was counted of a technician's readings, with the newest of those that counted. */
export interface CountedReadings {
  readonly counted: Counted;
  readonly readingIds: readonly string[];
}

/** Enough to open the first files; more would grow with the readings. */
const IDS_MAX = 20;

interface Open {
  readonly counted: {
    readonly subject: string;
    readonly kinds: Record<string, { readonly trials: number; readonly count: number }>;
  };
  readingIds: readonly string[];
}

function startOf(subject: string): Open {
  return { counted: { subject, kinds: {} }, readingIds: [] };
}
