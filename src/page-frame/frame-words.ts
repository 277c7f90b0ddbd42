import { quoteWords } from '../documents/index.ts';
import type { Language } from './language.ts';

/** Every word that the frame of a page says, whatever the page is about. */
export interface FrameWords {
  /** The language's own name, for those who look for it. */
  languageName: string;
  switchLanguage: string;
  /** As the papers say it. */
  license: (licenseNumber: string) => string;
  /** What is said where something of ours broke. */
  ourMistake: { title: string; text: string };
}

export const frameWords: Record<Language, FrameWords> = {
  en: {
    languageName: 'English',
    switchLanguage: 'Language',
    license: quoteWords.en.license,
    ourMistake: {
      title: 'Our mistake',
      text: 'Something went wrong on our side. Please try again, or call us.',
    },
  },
  es: {
    languageName: 'Español',
    switchLanguage: 'Idioma',
    license: quoteWords.es.license,
    ourMistake: {
      title: 'Un error nuestro',
      text: 'Algo falló de nuestro lado. Inténtelo otra vez o llámenos.',
    },
  },
};
