import type { PaperLanguage } from './paper-parts.ts';
import { type PaperWords, paperWords } from './paper-words.ts';

/** What an invoice and a credit memo say alike. */
export interface BilledWords extends PaperWords {
  invoice: (invoiceNumber: string) => string;
  ticket: (ticketNumber: string) => string;
  billTo: string;
  part: string;
  partTotal: string;
  allTogether: string;
  taxIn: string;
  /** Above a tax that stands alone. */
  tax: string;
  /** Above the amounts of a document, what they are. */
  amounts: string;
  /** Above the amounts of several documents. */
  amountsWithTax: string;
  /** Of a document that was one price for everything. */
  onePrice: string;
}

export const billedWords: Record<PaperLanguage, BilledWords> = {
  en: {
    ...paperWords.en,
    invoice: (invoiceNumber) => `Invoice ${invoiceNumber}`,
    ticket: (ticketNumber) => `Job ${ticketNumber}`,
    billTo: 'Billed to',
    part: 'Part',
    partTotal: 'Total of this part',
    allTogether: 'All together',
    taxIn: 'Tax in it',
    tax: 'Tax',
    amounts: paperWords.en.column.amount,
    amountsWithTax: paperWords.en.withTax,
    onePrice: paperWords.en.lumpSumPrice,
  },
  es: {
    ...paperWords.es,
    // A factura and a nota de crédito are feminine.
    issued: (dateText) => `Emitida el ${dateText}`,
    invoice: (invoiceNumber) => `Factura ${invoiceNumber}`,
    ticket: (ticketNumber) => `Trabajo ${ticketNumber}`,
    billTo: 'Facturado a',
    part: 'Parte',
    partTotal: 'Total de esta parte',
    allTogether: 'Todo junto',
    taxIn: 'Impuestos incluidos',
    tax: 'Impuesto',
    amounts: paperWords.es.column.amount,
    amountsWithTax: paperWords.es.withTax,
    onePrice: paperWords.es.lumpSumPrice,
  },
};
