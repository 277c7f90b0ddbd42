import {
  type CleanText,
  cleanAnswerWay,
  cleanChanged,
  cleanCompany,
  cleanCustomer,
  cleanDecline,
  cleanFinding,
  cleanSentences,
  cleanSite,
  cleanSystem,
  LENGTH,
} from './clean-parts.ts';
import type { DeclinePaper } from './decline-paper.ts';

/** The same paper with every text fit to print. */
export function cleanDeclinePaper(paper: DeclinePaper, clean: CleanText): DeclinePaper {
  const sentence = (text: string) => clean(text, LENGTH.sentence);
  return {
    language: paper.language,
    company: cleanCompany(paper.company, clean),
    quoteNumber: clean(paper.quoteNumber, LENGTH.number),
    revision: paper.revision,
    issuedAt: paper.issuedAt,
    declinedText: clean(paper.declinedText, LENGTH.name),
    customer: cleanCustomer(paper.customer, clean),
    site: cleanSite(paper.site, clean),
    systems: paper.systems.map((system) => cleanSystem(system, clean)),
    findings: paper.findings.map((finding) => cleanFinding(finding, clean)),
    offered: paper.offered.map(({ letter, title, totalCents }) => ({
      letter: clean(letter, 1),
      title: clean(title, LENGTH.title),
      totalCents,
    })),
    declinedByName: clean(paper.declinedByName, LENGTH.name),
    given: cleanAnswerWay(paper.given, clean),
    reason: paper.reason && sentence(paper.reason),
    conditionLeft: paper.conditionLeft && sentence(paper.conditionLeft),
    dangerWarned: paper.dangerWarned && sentence(paper.dangerWarned),
    decline: cleanDecline(paper.decline, clean),
    changes: paper.changes && cleanChanged(paper.changes, clean),
    cautions: cleanSentences(paper.cautions, clean),
    contentHash: clean(paper.contentHash, LENGTH.hash),
  };
}
