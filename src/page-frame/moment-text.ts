import type { Language } from './language.ts';

const LOCALES: Record<Language, string> = { en: 'en-US', es: 'es-US' };

/** A day and time on the company's clock: 'July 14, 2026 at 1:00 PM'. */
export function momentText(instant: Date, language: Language, timeZone: string): string {
  return new Intl.DateTimeFormat(LOCALES[language], {
    dateStyle: 'long',
    timeStyle: 'short',
    timeZone,
  }).format(instant);
}

/** A day on the company's calendar: 'July 14, 2026'. */
export function dayText(instant: Date, language: Language, timeZone: string): string {
  return new Intl.DateTimeFormat(LOCALES[language], { dateStyle: 'long', timeZone }).format(
    instant,
  );
}
