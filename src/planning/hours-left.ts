import type { Span } from './words.ts';

/** What is left of a day's hours at a minute; an instant of that minute where nothing is left. */
export function hoursLeft(hours: readonly Span[], now: number): Span[] {
  const left = hours
    .filter(({ to }) => to > now)
    .map(({ from, to }) => ({ from: Math.max(from, now), to }));
  return left.length === 0 ? [{ from: now, to: now }] : left;
}
