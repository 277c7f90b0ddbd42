/*
 * Calendar days belong to no clock. As text they are `2026-07-14`; the database keeps them as dates,
 * which arrive here as the midnight that begins them in UTC.
 */

/** A stored day as text. */
export function dayText(date: Date): string {
  return date.toISOString().slice(0, 10);
}

/** A day as it is stored. */
export function dateOfDay(day: string): Date {
  return new Date(`${day}T00:00:00Z`);
}

/** The day so many days after one: 30 days after '2026-07-14' is '2026-08-13'. */
export function plusDays(day: string, days: number): string {
  const date = dateOfDay(day);
  date.setUTCDate(date.getUTCDate() + days);
  return dayText(date);
}
