/** A day long after everything else, so many days later. */
export function laterDay(count: number): string {
  return new Date(Date.UTC(2050, 0, 4) + count * 86_400_000).toISOString().slice(0, 10);
}
