/** The epoch minute an instant lies in. */
export function minuteOf(instant: Date): number {
  return Math.floor(instant.getTime() / 60_000);
}

/** The first epoch minute that does not begin before an instant. */
export function minuteAfter(instant: Date): number {
  return Math.ceil(instant.getTime() / 60_000);
}

/** The instant at which an epoch minute begins. */
export function instantOf(minute: number): Date {
  return new Date(minute * 60_000);
}
