import type { PaperLanguage } from '../documents/index.ts';

/** What a record of the work says of its own accord while it is composed. */
export interface RecordWords {
  pieces: (count: number) => string;
  weight: (pounds: number, ounces: string) => string;
  /** Of whoever handles refrigerant (40 CFR 82.161). */
  certificate: (type: string, number: string) => string;
  types: Record<string, string>;
}

export const recordWords: Record<PaperLanguage, RecordWords> = {
  en: {
    pieces: (count) => (count === 1 ? '1 piece' : `${count} pieces`),
    weight: (pounds, ounces) => `${pounds} lb ${ounces} oz`,
    certificate: (type, number) => `Section 608 certificate, ${type}, ${number}`,
    types: { type_1: 'Type I', type_2: 'Type II', type_3: 'Type III', universal: 'Universal' },
  },
  es: {
    pieces: (count) => (count === 1 ? '1 pieza' : `${count} piezas`),
    weight: (pounds, ounces) => `${pounds} lb ${ounces} oz`,
    certificate: (type, number) => `Certificado de la Sección 608, ${type}, ${number}`,
    types: { type_1: 'Tipo I', type_2: 'Tipo II', type_3: 'Tipo III', universal: 'Universal' },
  },
};
