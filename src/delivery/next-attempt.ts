const MINUTE = 60_000;
const HOUR = 60 * MINUTE;

/**
 * How long is waited after each attempt: soon at first, for a server that is being started again,
 * then up to two days in all, for one that is away over a weekend's day.
 */
const WAITS_MS = [
  1 * MINUTE,
  5 * MINUTE,
  15 * MINUTE,
  1 * HOUR,
  3 * HOUR,
  6 * HOUR,
  12 * HOUR,
  24 * HOUR,
] as const;

/** One attempt more than there are waits between them. */
export const ATTEMPTS_MAX = WAITS_MS.length + 1;

/**
 * When to try again, up to a fifth later than planned, so that what failed together does not come
 * back together.
 * @param attempts how many there have been
 * @param share of that fifth, from 0 to 1
 * @returns undefined when there have been enough
 */
export function nextAttempt(now: Date, attempts: number, share: number): Date | undefined {
  const waitMs = WAITS_MS[attempts - 1];
  if (waitMs === undefined) return undefined;
  return new Date(now.getTime() + Math.round(waitMs * (1 + share / 5)));
}
