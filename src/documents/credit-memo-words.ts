import { type BilledWords, billedWords } from './billed-words.ts';
import type { PaperLanguage } from './paper-parts.ts';

/** Every word a credit memo says of its own accord. */
export interface CreditMemoWords extends BilledWords {
  title: string;
  numbered: (memoNumber: string) => string;
  fileTitle: (memoNumber: string, invoiceNumber: string, company: string) => string;
  lead: (invoiceNumber: string) => string;
  /** What the sum is called, by whether there is tax in it, or nothing else. */
  takenOff: Record<'withTax' | 'untaxed' | 'taxAlone', string>;
  why: string;
  what: string;
  means: string;
  meansText: (invoiceNumber: string, phone: string) => string;
}

export const creditMemoWords: Record<PaperLanguage, CreditMemoWords> = {
  en: {
    ...billedWords.en,
    title: 'Credit memo',
    numbered: (memoNumber) => `Credit memo ${memoNumber}`,
    fileTitle: (memoNumber, invoiceNumber, company) =>
      `Credit memo ${memoNumber} to invoice ${invoiceNumber} from ${company}`,
    lead: (invoiceNumber) => `We take this off invoice ${invoiceNumber}.`,
    amounts: 'Taken off',
    amountsWithTax: 'Taken off, with tax',
    onePrice: 'Taken off the one price for this work',
    takenOff: {
      withTax: 'Taken off, with tax',
      untaxed: 'Taken off',
      taxAlone: 'Tax taken off',
    },
    why: 'Why',
    what: 'What is taken off',
    means: 'What it means for you',
    meansText: (invoiceNumber, phone) =>
      `You owe that much less on invoice ${invoiceNumber}. If you have paid more than is left of it, we pay the difference back to you. Questions? Call ${phone}.`,
  },
  es: {
    ...billedWords.es,
    title: 'Nota de crédito',
    numbered: (memoNumber) => `Nota de crédito ${memoNumber}`,
    fileTitle: (memoNumber, invoiceNumber, company) =>
      `Nota de crédito ${memoNumber} de la factura ${invoiceNumber} de ${company}`,
    lead: (invoiceNumber) => `Esto se descuenta de la factura ${invoiceNumber}.`,
    amounts: 'Descontado',
    amountsWithTax: 'Descontado, con impuestos',
    onePrice: 'Descontado del precio global de este trabajo',
    takenOff: {
      withTax: 'Descontado, con impuestos',
      untaxed: 'Descontado',
      taxAlone: 'Impuesto descontado',
    },
    why: 'Por qué',
    what: 'Lo que se descuenta',
    means: 'Lo que significa para usted',
    meansText: (invoiceNumber, phone) =>
      `Usted debe esa cantidad menos de la factura ${invoiceNumber}. Si ya pagó más de lo que queda de ella, le devolvemos la diferencia. ¿Preguntas? Llame al ${phone}.`,
  },
};
