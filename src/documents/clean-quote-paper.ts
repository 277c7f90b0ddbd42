import {
  type CleanText,
  cleanChanged,
  cleanCompany,
  cleanCustomer,
  cleanDecline,
  cleanFinding,
  cleanLegalText,
  cleanOption,
  cleanSentences,
  cleanSite,
  cleanSystem,
  LENGTH,
} from './clean-parts.ts';
import type { QuotePaper } from './quote-paper.ts';

/**
 * The same paper with every text fit to print. The bounds are wider than anything a person would
 * write and narrow enough that no single cell can fill a page.
 */
export function cleanQuotePaper(paper: QuotePaper, clean: CleanText): QuotePaper {
  return {
    language: paper.language,
    company: cleanCompany(paper.company, clean),
    quoteNumber: clean(paper.quoteNumber, LENGTH.number),
    revision: paper.revision,
    issuedAt: paper.issuedAt,
    issuedText: clean(paper.issuedText, LENGTH.name),
    validUntilText: clean(paper.validUntilText, LENGTH.name),
    contentHash: clean(paper.contentHash, LENGTH.hash),
    summary: clean(paper.summary, LENGTH.sentence),
    customer: cleanCustomer(paper.customer, clean),
    site: cleanSite(paper.site, clean),
    systems: paper.systems.map((system) => cleanSystem(system, clean)),
    findings: paper.findings.map((finding) => cleanFinding(finding, clean)),
    options: paper.options.map((option) => cleanOption(option, clean)),
    decline: cleanDecline(paper.decline, clean),
    ...(paper.changes !== undefined && { changes: cleanChanged(paper.changes, clean) }),
    cautions: cleanSentences(paper.cautions, clean),
    legalTexts: paper.legalTexts.map((text) => cleanLegalText(text, clean)),
  };
}
