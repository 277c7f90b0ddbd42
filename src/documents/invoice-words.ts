import { type BilledWords, billedWords } from './billed-words.ts';
import type { PaperLanguage } from './paper-parts.ts';

/** Every word an invoice says of its own accord. */
export interface InvoiceWords extends BilledWords {
  title: string;
  fileTitle: (invoiceNumber: string, company: string) => string;
  payUntil: (day: string) => string;
  nothingToPay: string;
  lead: (street: string, days: readonly string[]) => string;
  billed: string;
  toPay: string;
  howToPay: string;
  payText: (invoiceNumber: string, phone: string, address: string) => string;
  notAsAgreed: (phone: string) => string;
}

export const invoiceWords: Record<PaperLanguage, InvoiceWords> = {
  en: {
    ...billedWords.en,
    title: 'Invoice',
    fileTitle: (invoiceNumber, company) => `Invoice ${invoiceNumber} from ${company}`,
    payUntil: (day) => `Please pay by ${day}`,
    nothingToPay: 'There is nothing to pay',
    lead: (street, days) => {
      if (days.length === 0) return `For ${street}.`;
      return `For our ${days.length > 1 ? 'visits' : 'visit'} to ${street} on ${days.join('; ')}.`;
    },
    billed: 'What is billed',
    toPay: 'Total to pay',
    howToPay: 'How to pay',
    payText: (invoiceNumber, phone, address) =>
      `Call ${phone}, or send your payment to ${address}. Name invoice ${invoiceNumber}, so that we know what it is for.`,
    notAsAgreed: (phone) =>
      `Everything on it is work of a quote with a yes that we have on record, or the fee of a visit that was asked for. If something is not as you agreed to it, call ${phone} before you pay.`,
  },
  es: {
    ...billedWords.es,
    title: 'Factura',
    fileTitle: (invoiceNumber, company) => `Factura ${invoiceNumber} de ${company}`,
    payUntil: (day) => `Por favor pague a más tardar el ${day}`,
    nothingToPay: 'No hay nada que pagar',
    lead: (street, days) => {
      const [day] = days;
      if (day === undefined) return `Por ${street}.`;
      if (days.length === 1) return `Por nuestra visita a ${street} el ${day}.`;
      return `Por nuestras visitas a ${street}: ${days.join('; ')}.`;
    },
    billed: 'Lo que se factura',
    toPay: 'Total a pagar',
    howToPay: 'Cómo pagar',
    payText: (invoiceNumber, phone, address) =>
      `Llame al ${phone} o envíe su pago a ${address}. Indique la factura ${invoiceNumber}, para que sepamos a qué corresponde.`,
    notAsAgreed: (phone) =>
      `Todo lo que contiene es trabajo de un presupuesto con un sí que tenemos registrado, o el cargo de una visita que se pidió. Si algo no es como usted lo acordó, llame al ${phone} antes de pagar.`,
  },
};
