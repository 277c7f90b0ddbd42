import { finishPlan } from './finish-plan.ts';
import { type Mark, type MeasureText, type PagePlan, type Tag, tag } from './page-plan.ts';
import type { QuotePaper } from './quote-paper.ts';
import { type QuoteWords, quoteWords } from './quote-words.ts';
import { addAnswer } from './sections/answer.ts';
import { addCautions } from './sections/cautions.ts';
import { addDecline } from './sections/decline.ts';
import { addEquipment } from './sections/equipment.ts';
import { addFindings } from './sections/findings.ts';
import { addFingerprint } from './sections/fingerprint.ts';
import { addGlance } from './sections/glance.ts';
import { addLegalTexts } from './sections/legal-texts.ts';
import { addLetterhead } from './sections/letterhead.ts';
import { addOptions } from './sections/options.ts';
import { addPeople } from './sections/people.ts';
import type { Sheet } from './sheet.ts';

/** What a layout learns from outside. */
export interface PlanOptions {
  /** How wide a text comes out. */
  measure: MeasureText;
  /** Where anyone can look the paper up. */
  pageUrl?: string | undefined;
}

/**
 * Lays out a quote: from the answer a person looks for first, through the evidence and the prices,
 * to the lines to sign. Pure; how wide a text comes out is told by `measure`.
 */
export function planQuote(paper: QuotePaper, options: PlanOptions): PagePlan {
  const short = layOut(paper, options, { totalsAgain: false });
  // Nobody signs on a page that says nothing of what is signed for.
  return short.answerStandsAlone ? layOut(paper, options, { totalsAgain: true }).plan : short.plan;
}

function layOut(
  paper: QuotePaper,
  { measure, pageUrl }: PlanOptions,
  { totalsAgain }: { totalsAgain: boolean },
): { plan: PagePlan; answerStandsAlone: boolean } {
  const words = quoteWords[paper.language];
  const { company, contentHash, customer, site } = paper;
  const root = tag('Document');
  const sheet: Sheet<QuoteWords> = { rows: [], words, measure };
  const title = titleOf(paper, words);
  addLetterhead(sheet, root, { company, title, facts: factsOf(paper, words) });
  addGlance(sheet, root, paper);
  addPeople(sheet, root, { label: words.preparedFor, person: customer, site });
  addEquipment(sheet, root, paper.systems);
  addFindings(sheet, root, paper.findings);
  addOptions(sheet, root, paper);
  addDecline(sheet, root, paper);
  addCautions(sheet, root, paper.cautions);
  addLegalTexts(sheet, root, paper.legalTexts);
  const before = root.children.at(-1);
  const answer = addAnswer(sheet, root, paper, { totalsAgain });
  addFingerprint(sheet, root, { contentHash, pageUrl });
  const plan = finishPlan(sheet, root, {
    title: fileTitle(paper, words),
    subject: title,
    footer: `${words.title(paper.quoteNumber, paper.revision)}  ·  ${company.name}`,
    createdAt: paper.issuedAt,
  });
  const lastBefore = before === undefined ? undefined : pagesOf(before).at(-1);
  return { plan, answerStandsAlone: (pagesOf(answer)[0] ?? 0) > (lastBefore ?? 0) };
}

/** The pages that a part of the paper has ink on, in order. */
function pagesOf(part: Tag | Mark): number[] {
  return part.kind === 'mark' ? [part.pageIndex] : part.children.flatMap(pagesOf);
}

/** What a paper is: a quote, or a change to one. */
function titleOf({ changes }: QuotePaper, words: QuoteWords): string {
  return changes === undefined ? words.quote : words.changeTo(changes.quoteNumber);
}

function factsOf(paper: QuotePaper, words: QuoteWords): string[] {
  return [
    words.title(paper.quoteNumber, paper.revision),
    words.issued(paper.issuedText),
    words.validUntil(paper.validUntilText),
  ];
}

function fileTitle(paper: QuotePaper, words: QuoteWords): string {
  const { quoteNumber, revision, company, changes } = paper;
  return changes === undefined
    ? words.fileTitle(quoteNumber, revision, company.name)
    : `${titleOf(paper, words)}: ${words.title(quoteNumber, revision)}, ${company.name}`;
}
