import type { QuoteWords } from './quote-words.ts';
import { spanishPaperWords } from './spanish-paper-words.ts';

/** The words of a quote for a reader of Spanish in the United States. */
export const spanishQuoteWords: QuoteWords = {
  ...spanishPaperWords,
  quote: 'Presupuesto de reparación',
  title: (quoteNumber, revision) => `Presupuesto ${quoteNumber}, revisión ${revision}`,
  changeTo: (quoteNumber) => `Cambio al presupuesto ${quoteNumber}`,
  fileTitle: (quoteNumber, revision, company) =>
    `Presupuesto de reparación ${quoteNumber}, revisión ${revision}, de ${company}`,
  validUntil: (dateText) => `Válido hasta ${dateText}`,
  options: { one: 'Lo que cuesta', several: 'Sus opciones y lo que cuestan' },
  declineHeading: 'Si usted dice que no',
  declineText: (total) => `Usted paga ${total} por la visita y nada más.`,
  declineFreeText: 'Usted no paga nada.',
  keepPaper: 'Puede quedarse con este papel.',
  declineGlance: 'No, ahora no: solo la visita',
  nothingAddedGlance: 'No, ahora no: no se agrega nada',
  answer: 'Su respuesta',
  answerText: (quoteNumber, revision) =>
    `Por favor marque una casilla y firme. Su respuesta es al presupuesto ${quoteNumber}, revisión ${revision}, como está impreso aquí.`,
  acceptLine: (letter, title, total) =>
    `Sí${letter === undefined ? '' : `, opción ${letter}`}: ${title}, por ${total} en total`,
  declineLine: (total) => `No, ahora no. Pago ${total} por la visita`,
  declineFreeLine: 'No, ahora no. No pago nada',
  nothingAddedLine: 'No, ahora no. No se agrega nada',
  totalsAgain: {
    option: 'Los totales otra vez',
    parts: 'Antes de impuestos + impuestos',
    total: 'Total',
  },
  name: 'Nombre en letra de molde',
  signature: 'Firma',
  date: 'Fecha',
};
