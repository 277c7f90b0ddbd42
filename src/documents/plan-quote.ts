import { finishPlan } from './finish-plan.ts';
import { type MeasureText, type PagePlan, tag } from './page-plan.ts';
import { pageOfEachRow } from './place-rows.ts';
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
import { tightenRows } from './tighten-rows.ts';

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
export function planQuote(paper: QuotePaper, { measure, pageUrl }: PlanOptions): PagePlan {
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
  const before = { rows: sheet.rows.length, sections: root.children.length };
  const addEnd = (options: { totalsAgain: boolean }) => {
    addAnswer(sheet, root, paper, options);
    addFingerprint(sheet, root, { contentHash, pageUrl });
  };
  addEnd({ totalsAgain: false });
  // Nobody signs on a page that says nothing of what is signed for.
  if (beginsPage(sheet, before.rows)) {
    sheet.rows.length = before.rows;
    root.children.length = before.sections;
    addEnd({ totalsAgain: true });
  }
  return finishPlan(sheet, root, {
    title: fileTitle(paper, words),
    subject: title,
    footer: `${words.title(paper.quoteNumber, paper.revision)}  ·  ${company.name}`,
    createdAt: paper.issuedAt,
  });
}

/** Whether a row comes to another page than the one above it. */
function beginsPage({ rows }: Sheet, row: number): boolean {
  const pages = pageOfEachRow(tightenRows(rows));
  return pages[row] !== pages[row - 1];
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
