import type { PaperAnswerWay, PaperLanguage } from './paper-parts.ts';
import { type PaperWords, paperWords } from './paper-words.ts';

/** What a paper of a yes and one of a no say alike. */
export interface AnswerWords extends PaperWords {
  ofQuote: (quoteNumber: string, revision: number) => string;
  answer: string;
  name: string;
  when: string;
  how: string;
  given: (given: PaperAnswerWay) => string;
}

export const answerWords: Record<PaperLanguage, AnswerWords> = {
  en: {
    ...paperWords.en,
    ofQuote: (quoteNumber, revision) => `Quote ${quoteNumber}, revision ${revision}`,
    answer: 'Your answer',
    name: 'Name',
    when: 'When',
    how: 'How',
    given: (given) => {
      switch (given.way) {
        case 'link':
          return 'Given at your own link';
        case 'staff':
          return `Told to us and recorded by ${given.recordedBy}`;
        case 'signed_paper':
          return `Signed on paper and recorded by ${given.recordedBy}`;
      }
    },
  },
  es: {
    ...paperWords.es,
    ofQuote: (quoteNumber, revision) => `Presupuesto ${quoteNumber}, revisión ${revision}`,
    answer: 'Su respuesta',
    name: 'Nombre',
    when: 'Cuándo',
    how: 'Cómo',
    given: (given) => {
      switch (given.way) {
        case 'link':
          return 'Dada en su propio enlace';
        case 'staff':
          return `Nos la dijo y la anotó ${given.recordedBy}`;
        case 'signed_paper':
          return `Firmada en papel y anotada por ${given.recordedBy}`;
      }
    },
  },
};
