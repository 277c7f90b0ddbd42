import type { PaperKind, PaperLanguage } from '../documents/index.ts';
import { editionOf, type PaperRow } from './paper-row.ts';

/** What a file is saved as: 'quote-1042-r2.pdf', 'factura-17.pdf', 'work-record-205.pdf'. */
export function fileName(row: PaperRow, language: PaperLanguage): string {
  const kind = row.kind as PaperKind;
  return `${NAMES[language][kind]}-${row.number}${suffix(kind, editionOf(row) ?? 1)}.pdf`;
}

function suffix(kind: PaperKind, edition: number): string {
  if (kind === 'quote') return `-r${edition}`;
  return kind === 'work_record' && edition > 1 ? `-${edition}` : '';
}

const NAMES: Record<PaperLanguage, Record<PaperKind, string>> = {
  en: {
    quote: 'quote',
    acceptance: 'accepted-quote',
    decline: 'declined-quote',
    invoice: 'invoice',
    credit_memo: 'credit-memo',
    work_record: 'work-record',
  },
  es: {
    quote: 'presupuesto',
    acceptance: 'presupuesto-aceptado',
    decline: 'presupuesto-rechazado',
    invoice: 'factura',
    credit_memo: 'nota-de-credito',
    work_record: 'registro-de-trabajo',
  },
};
