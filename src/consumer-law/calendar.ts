/** A calendar day as `2026-07-14`: without a time, and so without a zone. */
export type Day = string;

/** The day some days later, or earlier when negative. */
export function plusDays(day: Day, days: number): Day {
  return dayOf(noonOf(day) + days * DAY_MS);
}

/** ISO weekday: 1 is Monday, 7 is Sunday. */
export function weekdayOf(day: Day): number {
  return new Date(noonOf(day)).getUTCDay() || 7;
}

const DAY_MS = 86_400_000;

function noonOf(day: Day): number {
  return Date.parse(`${day}T12:00:00Z`);
}

function dayOf(ms: number): Day {
  return new Date(ms).toISOString().slice(0, 10);
}
