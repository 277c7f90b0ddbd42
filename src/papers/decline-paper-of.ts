import { localMomentText } from '../company/index.ts';
import type { DeclinePaper, PaperLanguage } from '../documents/index.ts';
import type { Tx } from '../platform/database/database.ts';
import { answeredQuote } from './acceptance-paper-of.ts';
import { answerWay } from './answer-way.ts';
import type { AnswerRow } from './paper-row.ts';
import { quoteFrozen } from './quote-frozen.ts';

/**
 * The paper of a no: what was found and offered, as the quote's paper has it, the row of the
 * answer, and its own row. How the system was left after a no from afar is told afterwards, by the record of the
 * work: this paper says what was said with the no, and so the same whenever it is composed.
 * @returns undefined in a language that the quote was not issued in
 */
export async function declinePaperOf(
  tx: Tx,
  quoteId: string,
  row: AnswerRow,
  language: PaperLanguage,
): Promise<DeclinePaper | undefined> {
  const no = await tx.quoteDecline.findUniqueOrThrow({ where: { quoteId } });
  const quote = await quoteFrozen(tx, no, language);
  if (quote === undefined) return undefined;
  const { reason, conditionLeft, dangerWarned } = no;
  return {
    ...answeredQuote(quote),
    issuedAt: no.declinedAt.toISOString(),
    declinedText: localMomentText(no.declinedAt, row.timeZone, language),
    systems: quote.systems,
    findings: quote.findings,
    offered: quote.options.map(({ letter, title, totalCents }) => ({ letter, title, totalCents })),
    declinedByName: no.declinedByName,
    given: answerWay(row),
    ...(reason !== null && { reason }),
    ...(conditionLeft !== null && { conditionLeft }),
    ...(dangerWarned !== null && { dangerWarned }),
    decline: quote.decline,
  };
}
