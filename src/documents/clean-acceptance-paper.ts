import type { AcceptancePaper } from './acceptance-paper.ts';
import {
  type CleanText,
  cleanAnswerWay,
  cleanChanged,
  cleanCompany,
  cleanCustomer,
  cleanLegalText,
  cleanOption,
  cleanSentences,
  cleanSite,
  LENGTH,
} from './clean-parts.ts';

/** The same paper with every text fit to print. */
export function cleanAcceptancePaper(paper: AcceptancePaper, clean: CleanText): AcceptancePaper {
  return {
    language: paper.language,
    company: cleanCompany(paper.company, clean),
    quoteNumber: clean(paper.quoteNumber, LENGTH.number),
    revision: paper.revision,
    issuedAt: paper.issuedAt,
    acceptedText: clean(paper.acceptedText, LENGTH.name),
    customer: cleanCustomer(paper.customer, clean),
    site: cleanSite(paper.site, clean),
    option: cleanOption(paper.option, clean),
    optionCount: paper.optionCount,
    isVisitOnly: paper.isVisitOnly,
    changes: paper.changes && cleanChanged(paper.changes, clean),
    acceptedByName: clean(paper.acceptedByName, LENGTH.name),
    given: cleanAnswerWay(paper.given, clean),
    beyondLimitAgreedBy: paper.beyondLimitAgreedBy && clean(paper.beyondLimitAgreedBy, LENGTH.name),
    consentText: clean(paper.consentText, LENGTH.legalParagraph),
    cancelUntilText: paper.cancelUntilText && clean(paper.cancelUntilText, LENGTH.name),
    legalTexts: paper.legalTexts.map((text) => cleanLegalText(text, clean)),
    cautions: cleanSentences(paper.cautions, clean),
    contentHash: clean(paper.contentHash, LENGTH.hash),
  };
}
