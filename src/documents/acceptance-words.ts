import { type AnswerWords, answerWords } from './answer-words.ts';
import type { PaperLanguage } from './paper-parts.ts';

/** Every word the paper of a yes says of its own accord. */
export interface AcceptanceWords extends AnswerWords {
  title: string;
  fileTitle: (quoteNumber: string, company: string) => string;
  lead: string;
  visitOnlyLead: string;
  agreed: string;
  beyondLimit: string;
  consent: string;
  rightToCancel: string;
  cancelUntil: (day: string) => string;
  next: string;
  nextSteps: readonly string[];
  visitOnlySteps: readonly string[];
}

export const acceptanceWords: Record<PaperLanguage, AcceptanceWords> = {
  en: {
    ...answerWords.en,
    title: 'You said yes',
    fileTitle: (quoteNumber, company) => `You said yes to quote ${quoteNumber} from ${company}`,
    lead: 'The work below is agreed. This is your receipt for it.',
    visitOnlyLead: 'The visit is agreed, and no work. This is your receipt for it.',
    agreed: 'What you agreed to',
    beyondLimit: 'Also agreed to by',
    consent: 'The words you agreed to',
    rightToCancel: 'You may still cancel',
    cancelUntil: (day) => `You may cancel what you agreed to until the end of ${day}.`,
    next: 'What happens next',
    nextSteps: [
      'We do the work as it is written here.',
      'If more is needed, we ask you first. It is done only after another quote and another yes of yours.',
      'When the job is closed, you get a record of the work with the readings before and after.',
      'The invoice is never for more than you agreed to. What is not done is not charged.',
    ],
    visitOnlySteps: [
      'We do no work. It is done only after another quote and another yes of yours.',
      'The invoice is never for more than you agreed to.',
    ],
  },
  es: {
    ...answerWords.es,
    title: 'Usted dijo que sí',
    fileTitle: (quoteNumber, company) =>
      `Usted dijo que sí al presupuesto ${quoteNumber} de ${company}`,
    lead: 'El trabajo que se describe abajo está acordado. Este es su comprobante.',
    visitOnlyLead: 'La visita está acordada, y ningún trabajo. Este es su comprobante.',
    agreed: 'Lo que usted acordó',
    beyondLimit: 'También lo acordó',
    consent: 'Las palabras que usted aceptó',
    rightToCancel: 'Todavía puede cancelar',
    cancelUntil: (day) => `Usted puede cancelar lo acordado hasta el final del ${day}.`,
    next: 'Lo que sigue',
    nextSteps: [
      'Hacemos el trabajo como está escrito aquí.',
      'Si hace falta algo más, primero le preguntamos. Se hace solo después de otro presupuesto y otro sí suyo.',
      'Cuando se cierre el trabajo, usted recibe un registro con las lecturas de antes y de después.',
      'La factura nunca es por más de lo que usted acordó. Lo que no se hace no se cobra.',
    ],
    visitOnlySteps: [
      'No hacemos ningún trabajo. Se hace solo después de otro presupuesto y otro sí suyo.',
      'La factura nunca es por más de lo que usted acordó.',
    ],
  },
};
