import type { Language } from './language.ts';

const LOCALES: Record<Language, string> = { en: 'en-US', es: 'es-US' };

/** A day on the company's calendar: 'July 14, 2026'. */
export function dayText(instant: Date, language: Language, timeZone: string): string {
  return new Intl.DateTimeFormat(LOCALES[language], { dateStyle: 'long', timeZone }).format(
    instant,
  );
}
