import { assertAcceptanceAddsUp } from './assert-acceptance-adds-up.ts';
import { assertBilledAddsUp } from './assert-billed-adds-up.ts';
import { assertDeclineAddsUp } from './assert-decline-adds-up.ts';
import { assertQuoteAddsUp } from './assert-quote-adds-up.ts';
import { assertWorkRecordDrawable } from './assert-work-record-drawable.ts';
import { cleanAcceptancePaper } from './clean-acceptance-paper.ts';
import { cleanCreditMemoPaper } from './clean-credit-memo-paper.ts';
import { cleanDeclinePaper } from './clean-decline-paper.ts';
import { cleanInvoicePaper } from './clean-invoice-paper.ts';
import type { CleanText } from './clean-parts.ts';
import { cleanQuotePaper } from './clean-quote-paper.ts';
import { cleanWorkRecordPaper } from './clean-work-record-paper.ts';
import type { PagePlan } from './page-plan.ts';
import type { Paper } from './paper.ts';
import { planAcceptance } from './plan-acceptance.ts';
import { planCreditMemo } from './plan-credit-memo.ts';
import { planDecline } from './plan-decline.ts';
import { planInvoice } from './plan-invoice.ts';
import { type PlanOptions, planQuote } from './plan-quote.ts';
import { planWorkRecord } from './plan-work-record.ts';

/**
 * Lays out a paper of any kind, once it is seen to add up and its texts are fit to print. Pure.
 * @throws PaperRefused when the paper contradicts itself
 */
export function planPaper(
  { kind, paper }: Paper,
  { clean, ...options }: PlanOptions & { clean: CleanText },
): PagePlan {
  switch (kind) {
    case 'quote':
      assertQuoteAddsUp(paper);
      return planQuote(cleanQuotePaper(paper, clean), options);
    case 'acceptance':
      assertAcceptanceAddsUp(paper);
      return planAcceptance(cleanAcceptancePaper(paper, clean), options);
    case 'decline':
      assertDeclineAddsUp(paper);
      return planDecline(cleanDeclinePaper(paper, clean), options);
    case 'invoice':
      assertBilledAddsUp(paper);
      return planInvoice(cleanInvoicePaper(paper, clean), options);
    case 'credit_memo':
      assertBilledAddsUp(paper);
      return planCreditMemo(cleanCreditMemoPaper(paper, clean), options);
    case 'work_record':
      assertWorkRecordDrawable(paper);
      return planWorkRecord(cleanWorkRecordPaper(paper, clean), options);
  }
}
