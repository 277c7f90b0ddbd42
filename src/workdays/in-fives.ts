/** Minutes rounded up to five: no estimate is better than that. */
export function inFives(minutes: number): number {
  return Math.ceil(minutes / 5) * 5;
}
