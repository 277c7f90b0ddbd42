import { networkOf } from './network-of.ts';

/** How many files are taken. */
export interface UploadBounds {
  /** At the same time: each is held in memory while it is read. */
  atOnceMax: number;
  atOncePerAddressMax: number;
  /** How many an address may send in one go, and after how long it may send one more. */
  burst: number;
  oneMoreEveryMs: number;
}

/** Whether a file is taken now. */
export type Entry =
  | { outcome: 'entered'; leave(): void }
  | { outcome: 'busy' | 'too_often'; waitSeconds: number };

export interface UploadGate {
  enter(address: string, now: Date): Entry;
}

/**
 * Lets in as many files as this process can hold and read, and of one address no more than its
 * share, so that nobody shuts out everybody else. It knows addresses for as long as they are in
 * debt, in this process alone.
 */
export function createUploadGate(bounds: UploadBounds = BOUNDS): UploadGate {
  const { atOnceMax, atOncePerAddressMax, burst, oneMoreEveryMs } = bounds;
  const inside = new Map<string, number>();
  const freeAtMs = new Map<string, number>();
  let count = 0;
  return {
    enter: (address, now) => {
      const network = networkOf(address);
      const nowMs = now.getTime();
      // Each file puts the moment off at which the address owes nothing any more.
      const owedMs = Math.max(0, (freeAtMs.get(network) ?? 0) - nowMs);
      const waitMs = owedMs - (burst - 1) * oneMoreEveryMs;
      if (waitMs > 0) return { outcome: 'too_often', waitSeconds: Math.ceil(waitMs / 1_000) };
      const own = inside.get(network) ?? 0;
      if (count >= atOnceMax || own >= atOncePerAddressMax) {
        return { outcome: 'busy', waitSeconds: BUSY_SECONDS };
      }
      makeRoom(freeAtMs, nowMs);
      freeAtMs.delete(network);
      freeAtMs.set(network, nowMs + owedMs + oneMoreEveryMs);
      inside.set(network, own + 1);
      count += 1;
      return { outcome: 'entered', leave: once(() => leave(network)) };
    },
  };

  function leave(network: string): void {
    count -= 1;
    const left = (inside.get(network) ?? 1) - 1;
    if (left === 0) inside.delete(network);
    else inside.set(network, left);
  }
}

/**
 * A file is at most 10 MiB and is held twice for a moment; it is read within seconds. Of the five that
 * are read or wait to be (`paper-pages.ts`), two addresses leave one place to somebody else.
 */
const BOUNDS: UploadBounds = {
  atOnceMax: 8,
  atOncePerAddressMax: 2,
  burst: 20,
  oneMoreEveryMs: 6_000,
};
const BUSY_SECONDS = 5;
const KNOWN_MAX = 10_000;

/** Only a flood comes from as many addresses; then those that were noted longest ago are let go. */
function makeRoom(freeAtMs: Map<string, number>, nowMs: number): void {
  if (freeAtMs.size < KNOWN_MAX) return;
  for (const [network, atMs] of freeAtMs) if (atMs <= nowMs) freeAtMs.delete(network);
  const [oldest] = freeAtMs.keys();
  if (freeAtMs.size >= KNOWN_MAX && oldest !== undefined) freeAtMs.delete(oldest);
}

function once(act: () => void): () => void {
  let isDone = false;
  return () => {
    if (!isDone) act();
    isDone = true;
  };
}
