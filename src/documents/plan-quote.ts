import { fitText } from './fit-text.ts';
import { layLine } from './lay-text.ts';
import {
  type Ink,
  type Mark,
  type MeasureText,
  type PagePlan,
  type Tag,
  tag,
} from './page-plan.ts';
import { PAGE, TYPE } from './paper-style.ts';
import { placeRows } from './place-rows.ts';
import type { QuotePaper } from './quote-paper.ts';
import { type QuoteWords, quoteWords } from './quote-words.ts';
import { addAnswer, addCautions, addDecline, addLegalTexts } from './sections/closing.ts';
import { addFindings } from './sections/findings.ts';
import { addGlance } from './sections/glance.ts';
import { addLetterhead, titleOf } from './sections/letterhead.ts';
import { addOptions } from './sections/options.ts';
import { addPeopleAndEquipment } from './sections/people-and-equipment.ts';
import type { Sheet } from './sheet.ts';

/**
 * Lays out a quote: from the answer a person looks for first, through the evidence and the prices,
 * to the lines to sign. Pure; how wide a text comes out is told by `measure`.
 */
export function planQuote(paper: QuotePaper, measure: MeasureText): PagePlan {
  const short = layOut(paper, measure, { totalsAgain: false });
  // Nobody signs on a page that says nothing of what is signed for.
  return short.answerStandsAlone ? layOut(paper, measure, { totalsAgain: true }).plan : short.plan;
}

function layOut(
  paper: QuotePaper,
  measure: MeasureText,
  { totalsAgain }: { totalsAgain: boolean },
): { plan: PagePlan; answerStandsAlone: boolean } {
  const words = quoteWords[paper.language];
  const root = tag('Document');
  const sheet: Sheet = { rows: [], words, measure };
  addLetterhead(sheet, root, paper);
  addGlance(sheet, root, paper);
  addPeopleAndEquipment(sheet, root, paper);
  addFindings(sheet, root, paper.findings);
  addOptions(sheet, root, paper);
  addDecline(sheet, root, paper);
  addCautions(sheet, root, paper.cautions);
  addLegalTexts(sheet, root, paper.legalTexts);
  addAnswer(sheet, root, paper, { totalsAgain });
  const pages = placeRows(sheet.rows);
  pages.forEach((page, index) => {
    page.footer = footerInks(paper, words, index + 1, pages.length, measure);
  });
  const plan = {
    title: fileTitle(paper, words),
    subject: titleOf(paper, words),
    language: words.languageTag,
    createdAt: paper.issuedAt,
    pages,
    root,
  };
  const [before, answer] = root.children.slice(-2).map(pagesOf);
  return { plan, answerStandsAlone: (answer?.[0] ?? 0) > (before?.at(-1) ?? 0) };
}

/** The pages that a part of the paper has ink on, in order. */
function pagesOf(part: Tag | Mark): number[] {
  return part.kind === 'mark' ? [part.pageIndex] : part.children.flatMap(pagesOf);
}

function fileTitle(paper: QuotePaper, words: QuoteWords): string {
  const { quoteNumber, revision, company, changes } = paper;
  return changes === undefined
    ? words.fileTitle(quoteNumber, revision, company.name)
    : `${titleOf(paper, words)}: ${words.title(quoteNumber, revision)}, ${company.name}`;
}

function footerInks(
  paper: QuotePaper,
  words: QuoteWords,
  pageNumber: number,
  pageCount: number,
  measure: MeasureText,
): Ink[] {
  const place = { xPt: PAGE.leftPt, topPt: PAGE.footerTopPt, widthPt: PAGE.contentWidthPt };
  const page = words.page(pageNumber, pageCount);
  const roomPt = PAGE.contentWidthPt - measure(page, TYPE.tick) - 20;
  const whole = `${words.title(paper.quoteNumber, paper.revision)}  ·  ${paper.company.name}`;
  const title = fitText(whole, TYPE.tick, roomPt, measure);
  return [
    layLine(`${title} `, TYPE.tick, place, measure),
    layLine(page, TYPE.tick, { ...place, align: 'right' }, measure),
  ];
}
