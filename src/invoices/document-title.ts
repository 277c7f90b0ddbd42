import { localDayText } from '../company/index.ts';
import type { PaperLanguage } from '../documents/index.ts';

/** A document of an invoice, as far as it is named. */
export type NamedDocument =
  | { readonly kind: 'accepted' | 'work_not_done'; readonly quoteNumber: number }
  | { readonly kind: 'visit_fee'; readonly arrivedAt: Date };

type TitleOf = (document: NamedDocument, timeZone: string) => string;

/** What a document is called on its invoice, and on whatever takes something off it. */
export const documentTitle: Record<PaperLanguage, TitleOf> = {
  en: (document, timeZone) => {
    switch (document.kind) {
      case 'accepted':
        return `Quote ${document.quoteNumber}, as accepted`;
      case 'work_not_done':
        return `Work of quote ${document.quoteNumber} that was not done`;
      case 'visit_fee':
        return `Visit on ${localDayText(document.arrivedAt, timeZone)}`;
    }
  },
  es: (document, timeZone) => {
    switch (document.kind) {
      case 'accepted':
        return `Presupuesto ${document.quoteNumber}, como se aceptó`;
      case 'work_not_done':
        return `Trabajo del presupuesto ${document.quoteNumber} que no se hizo`;
      case 'visit_fee':
        return `Visita del ${localDayText(document.arrivedAt, timeZone, 'es')}`;
    }
  },
};
