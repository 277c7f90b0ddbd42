/** The instant so many minutes later; earlier when they are negative. */
export function minutesAfter(at: Date, minutes: number): Date {
  return new Date(at.getTime() + Math.round(minutes * 60_000));
}
