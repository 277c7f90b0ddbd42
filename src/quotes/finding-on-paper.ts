import { countsAsFound, type PaperFinding, type PaperLanguage } from '../documents/index.ts';
import { findFault } from '../trade/index.ts';
import type { FoundForPaper } from './compose-paper.ts';
import { paperFinding, paperStanding } from './paper-finding.ts';
import { paperFindingInSpanish } from './paper-finding-in-spanish.ts';

type OnPaper = (finding: FoundForPaper, all: readonly FoundForPaper[]) => PaperFinding;

/** A finding as papers tell it beside all that they tell, in either language. */
export const findingOnPaper: Record<PaperLanguage, OnPaper> = {
  en: (finding, all) => paperFinding(finding, isCauseFound(finding, all)),
  es: (finding, all) => paperFindingInSpanish(finding, isCauseFound(finding, all)),
};

/** Whether the same paper names a cause on the same machine that the evidence carries. */
function isCauseFound({ equipmentId }: FoundForPaper, all: readonly FoundForPaper[]): boolean {
  return all.some(
    (other) =>
      other.equipmentId === equipmentId &&
      findFault(other.faultCode)?.role === 'cause' &&
      countsAsFound(paperStanding(other)),
  );
}
