import { lastDayText, localMomentText } from '../company/index.ts';
import type { AcceptancePaper, PaperLanguage, QuotePaper } from '../documents/index.ts';
import type { Tx } from '../platform/database/database.ts';
import { workKinds } from '../pricing/index.ts';
import { answerWay } from './answer-way.ts';
import type { AnswerRow } from './paper-row.ts';
import { quoteFrozen } from './quote-frozen.ts';

/**
 * The paper of a yes: what was answered, as the quote's paper has it, the row of the answer, and its
 * own row. Of these nothing changes any more, so it says the same whenever it is composed.
 * @returns undefined in a language that the quote was not issued in
 */
export async function acceptancePaperOf(
  tx: Tx,
  quoteId: string,
  row: AnswerRow,
  language: PaperLanguage,
): Promise<AcceptancePaper | undefined> {
  const { timeZone } = row;
  const yes = await tx.quoteAcceptance.findUniqueOrThrow({ where: { quoteId } });
  const quote = await quoteFrozen(tx, yes, language);
  if (quote === undefined) return undefined;
  const { position } = await tx.quoteOption.findUniqueOrThrow({ where: { id: yes.optionId } });
  const soldLines = await tx.quoteLine.count({
    where: { optionId: yes.optionId, kind: { in: [...workKinds] } },
  });
  return {
    ...answeredQuote(quote),
    issuedAt: yes.acceptedAt.toISOString(),
    acceptedText: localMomentText(yes.acceptedAt, timeZone, language),
    option: optionAt(quote, position),
    optionCount: quote.options.length,
    ...(soldLines === 0 && quote.changes === undefined && { isVisitOnly: true }),
    acceptedByName: yes.acceptedByName,
    given: answerWay(row),
    ...(yes.beyondLimitAgreedBy !== null && { beyondLimitAgreedBy: yes.beyondLimitAgreedBy }),
    consentText: yes.consentText,
    ...(yes.cancelUntil !== null && {
      cancelUntilText: lastDayText(yes.cancelUntil, timeZone, language),
    }),
    legalTexts: quote.legalTexts,
  };
}

/** What both answers repeat of the quote they answer. */
export function answeredQuote(quote: QuotePaper) {
  const { language, company, quoteNumber, revision, customer, site } = quote;
  const { changes, cautions, contentHash } = quote;
  return {
    ...{ language, company, quoteNumber, revision, customer, site, cautions, contentHash },
    ...(changes !== undefined && { changes }),
  };
}

function optionAt({ options }: QuotePaper, position: number) {
  const option = options[position - 1];
  if (option === undefined) throw new Error('an accepted option stands on the paper');
  return option;
}
