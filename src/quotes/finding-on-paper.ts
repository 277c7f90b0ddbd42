import type { PaperFinding, PaperLanguage } from '../documents/index.ts';
import type { FoundForPaper } from './compose-paper.ts';
import { paperFinding } from './paper-finding.ts';
import { paperFindingInSpanish } from './paper-finding-in-spanish.ts';

/** A finding as papers tell it, in either language. */
export const findingOnPaper: Record<PaperLanguage, (finding: FoundForPaper) => PaperFinding> = {
  en: paperFinding,
  es: paperFindingInSpanish,
};
