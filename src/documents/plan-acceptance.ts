import type { AcceptancePaper } from './acceptance-paper.ts';
import { type AcceptanceWords, acceptanceWords } from './acceptance-words.ts';
import { changedQuote } from './changed-quote.ts';
import { formatCents } from './format-cents.ts';
import { type PagePlan, type Tag, tagUnder } from './page-plan.ts';
import { TYPE } from './paper-style.ts';
import { planAnswer } from './plan-answer.ts';
import type { PlanOptions } from './plan-quote.ts';
import { addAnswerFacts } from './sections/answer-facts.ts';
import { addCautions } from './sections/cautions.ts';
import { addLegalTexts } from './sections/legal-texts.ts';
import { addPanel, type PanelRow } from './sections/panel.ts';
import { addPeople } from './sections/people.ts';
import { addPrices } from './sections/prices.ts';
import { addTold } from './sections/told.ts';
import { addBullets, addHeading, addParagraph, keepTogether, type Sheet } from './sheet.ts';

/** Lays out the receipt of a yes: what was agreed, by whom, in which words, and what comes next. */
export function planAcceptance(paper: AcceptancePaper, options: PlanOptions): PagePlan {
  const words = acceptanceWords[paper.language];
  const answer = { paper, words, answeredText: paper.acceptedText };
  return planAnswer(answer, options, (sheet, root) => addYes(sheet, root, paper));
}

function addYes(sheet: Sheet<AcceptanceWords>, root: Tag, paper: AcceptancePaper): void {
  const { words } = sheet;
  const lead = paper.isVisitOnly ? words.visitOnlyLead : words.lead;
  addPanel(sheet, root, { lead, caption: words.withTax, rows: rowsOf(paper, words) });
  addPeople(sheet, root, { label: words.preparedFor, person: paper.customer, site: paper.site });
  addAgreed(sheet, root, paper);
  const answer = addAnswerFacts(sheet, root, {
    name: paper.acceptedByName,
    momentText: paper.acceptedText,
    given: paper.given,
    more: [[words.beyondLimit, paper.beyondLimitAgreedBy]],
  });
  addConsent(sheet, answer, paper.consentText);
  addNext(sheet, root, paper.isVisitOnly ? words.visitOnlySteps : words.nextSteps);
  addTold(
    sheet,
    root,
    words.rightToCancel,
    paper.cancelUntilText === undefined ? [] : [words.cancelUntil(paper.cancelUntilText)],
  );
  addLegalTexts(sheet, root, paper.legalTexts);
  addCautions(sheet, root, paper.cautions);
}

function optionTitle({ option, optionCount }: AcceptancePaper, words: AcceptanceWords): string {
  return optionCount > 1 ? words.option(option.letter, option.title) : option.title;
}

function rowsOf(paper: AcceptancePaper, words: AcceptanceWords): PanelRow[] {
  const { option, changes } = paper;
  const agreed: PanelRow = {
    label: optionTitle(paper, words),
    amount: formatCents(option.totalCents),
    weight: 'strong',
  };
  if (changes === undefined) return [agreed];
  const amount = formatCents(changes.agreedCents + option.totalCents);
  return [agreed, { label: words.together(changedQuote(changes)), amount, weight: 'quiet' }];
}

/** Exactly as the quote showed it. */
function addAgreed(sheet: Sheet<AcceptanceWords>, root: Tag, paper: AcceptancePaper): void {
  const { words } = sheet;
  const { option, changes } = paper;
  const section = tagUnder(root, 'Sect');
  const firstRow = sheet.rows.length;
  addHeading(sheet, section, words.agreed);
  addParagraph(sheet, section, optionTitle(paper, words), TYPE.subheading, {
    type: 'H3',
    keepWithNext: true,
  });
  addParagraph(sheet, section, option.explanation ?? '', TYPE.body, {
    spaceAbovePt: 2,
    keepWithNext: true,
  });
  addPrices(sheet, section, option, changes);
  keepTogether(sheet, firstRow, AGREED_HEIGHT_MAX_PT);
}

/** A short list stands whole on one page; a longer one begins on the first and runs on. */
const AGREED_HEIGHT_MAX_PT = 300;

function addConsent(sheet: Sheet<AcceptanceWords>, section: Tag, consentText: string): void {
  addParagraph(sheet, section, sheet.words.consent, TYPE.label, {
    spaceAbovePt: 9,
    keepWithNext: true,
  });
  addParagraph(sheet, section, `“${consentText}”`, TYPE.body, { spaceAbovePt: 2 });
}

function addNext(sheet: Sheet<AcceptanceWords>, root: Tag, steps: readonly string[]): void {
  const { words } = sheet;
  const section = tagUnder(root, 'Sect');
  addHeading(sheet, section, words.next);
  addBullets(sheet, section, steps, TYPE.body);
}
