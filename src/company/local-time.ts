import { DateTime } from 'luxon';

/** Weekday (1 is Monday) and minutes since midnight of an instant in a zone. */
export function localMoment(instant: Date, timeZone: string): { weekday: number; minutes: number } {
  const local = DateTime.fromJSDate(instant, { zone: timeZone });
  return { weekday: local.weekday, minutes: local.hour * 60 + local.minute };
}

/**
 * The midnight that ends the given local day plus `days`: a quote valid for 30 days stands until
 * the end of the 30th day after today, on the company's clock.
 */
export function endOfLocalDay(instant: Date, days: number, timeZone: string): Date {
  return DateTime.fromJSDate(instant, { zone: timeZone })
    .plus({ days: days + 1 })
    .startOf('day')
    .toJSDate();
}

/**
 * The instant at which the local clock shows so many minutes after the midnight that begins a day;
 * from 1440 on it is on the next. A time that is shown twice, when the clocks go back, is the first
 * of the two; one that is skipped, when they go forward, is as if they had not.
 * @param day as `2026-07-14`
 */
export function localInstant(day: string, minute: number, timeZone: string): Date {
  const { year, month, day: ofMonth } = DateTime.fromISO(day, { zone: 'utc' });
  const local = DateTime.fromObject({ year, month, day: ofMonth }, { zone: timeZone })
    .plus({ days: Math.floor(minute / 1_440) })
    .set({ hour: Math.floor((minute % 1_440) / 60), minute: minute % 60 });
  const shownThen = local.getPossibleOffsets().map((each) => each.toMillis());
  return new Date(Math.min(...shownThen));
}

/** The midnight that began the local month of an instant. */
export function startOfLocalMonth(instant: Date, timeZone: string): Date {
  return DateTime.fromJSDate(instant, { zone: timeZone }).startOf('month').toJSDate();
}

/** The local calendar day of an instant, as `2026-07-14`. */
export function localDay(instant: Date, timeZone: string): string {
  return DateTime.fromJSDate(instant, { zone: timeZone }).toFormat('yyyy-MM-dd');
}

/** The local calendar day of an instant in words, as `July 14, 2026` or `14 de julio de 2026`. */
export function localDayText(
  instant: Date,
  timeZone: string,
  language: keyof typeof dayForms = 'en',
): string {
  const { locale, format } = dayForms[language];
  return DateTime.fromJSDate(instant, { zone: timeZone }).setLocale(locale).toFormat(format);
}

/** The day that ends with this instant: what stands until a midnight stands through the day before. */
export function lastDayText(
  end: Date,
  timeZone: string,
  language: keyof typeof dayForms = 'en',
): string {
  return localDayText(new Date(end.getTime() - 1), timeZone, language);
}

const dayForms = {
  en: { locale: 'en-US', format: 'MMMM d, yyyy' },
  es: { locale: 'es-US', format: "d 'de' MMMM 'de' yyyy" },
} as const;

/** The time of day on the company's clock, as `3:52 PM CDT`. */
export function localClockText(
  instant: Date,
  timeZone: string,
  language: keyof typeof dayForms = 'en',
): string {
  return DateTime.fromJSDate(instant, { zone: timeZone })
    .setLocale(dayForms[language].locale)
    .toFormat('h:mm a ZZZZ')
    .replace(/\s/gu, ' ');
}

/** An instant on the company's clock, as `July 14, 2026, 3:52 PM CDT`. */
export function localMomentText(
  instant: Date,
  timeZone: string,
  language: keyof typeof dayForms = 'en',
): string {
  const { locale, format } = dayForms[language];
  return DateTime.fromJSDate(instant, { zone: timeZone })
    .setLocale(locale)
    .toFormat(`${format}, h:mm a ZZZZ`)
    .replace(/\s/gu, ' ');
}
