import { type AnswerWords, answerWords } from './answer-words.ts';
import type { PaperLanguage } from './paper-parts.ts';

/** Every word the paper of a no says of its own accord. */
export interface DeclineWords extends AnswerWords {
  title: string;
  fileTitle: (quoteNumber: string, company: string) => string;
  lead: string;
  owed: string;
  nothingOwed: string;
  offered: string;
  offer: string;
  leftUnknown: string;
  reason: string;
  visitCost: string;
  comeBack: string;
  comeBackHow: (phone: string, quoteNumber: string) => string;
}

export const declineWords: Record<PaperLanguage, DeclineWords> = {
  en: {
    ...answerWords.en,
    title: 'You said no',
    fileTitle: (quoteNumber, company) => `You said no to quote ${quoteNumber} from ${company}`,
    lead: 'No work is ordered. This paper keeps what we found and what we offered.',
    owed: 'You pay for the visit and nothing else',
    nothingOwed: 'You pay nothing',
    offered: 'What we offered',
    offer: 'Offer',
    leftUnknown:
      'You answered from afar. How the system was left is written in the record that you get when the job is closed.',
    reason: 'Reason',
    visitCost: 'What the visit costs',
    comeBack: 'If you change your mind',
    comeBackHow: (phone, quoteNumber) =>
      `Call ${phone} and name quote ${quoteNumber}. What we found is on file. You get a new quote with the prices of that day, and nothing is done before you say yes to it.`,
  },
  es: {
    ...answerWords.es,
    title: 'Usted dijo que no',
    fileTitle: (quoteNumber, company) =>
      `Usted dijo que no al presupuesto ${quoteNumber} de ${company}`,
    lead: 'No se encargó ningún trabajo. Este papel guarda lo que encontramos y lo que ofrecimos.',
    owed: 'Usted paga la visita y nada más',
    nothingOwed: 'Usted no paga nada',
    offered: 'Lo que ofrecimos',
    offer: 'Oferta',
    leftUnknown:
      'Usted respondió a distancia. Cómo quedó el sistema se escribe en el registro que usted recibe cuando se cierre el trabajo.',
    reason: 'Motivo',
    visitCost: 'Lo que cuesta la visita',
    comeBack: 'Si cambia de opinión',
    comeBackHow: (phone, quoteNumber) =>
      `Llame al ${phone} y diga el número del presupuesto, ${quoteNumber}. Lo que encontramos queda guardado. Usted recibe un presupuesto nuevo con los precios de ese día, y no se hace nada antes de que usted diga que sí.`,
  },
};
