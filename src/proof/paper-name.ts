import type { PaperKind, PaperLanguage } from '../documents/index.ts';
import { proofWords } from './proof-words.ts';

/** What a paper is called within a sentence: 'credit memo 3', 'aceptación del presupuesto 1042'. */
export function paperName(kind: PaperKind, number: string, language: PaperLanguage): string {
  return proofWords[language].paper(kind, number);
}
