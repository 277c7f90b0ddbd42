import { changedQuote } from './changed-quote.ts';
import type { DeclinePaper } from './decline-paper.ts';
import { type DeclineWords, declineWords } from './decline-words.ts';
import { formatCents } from './format-cents.ts';
import { type PagePlan, type Tag, tagUnder } from './page-plan.ts';
import { planAnswer } from './plan-answer.ts';
import type { PlanOptions } from './plan-quote.ts';
import { addAnswerFacts } from './sections/answer-facts.ts';
import { addCautions } from './sections/cautions.ts';
import { addEquipment } from './sections/equipment.ts';
import { addFindings } from './sections/findings.ts';
import { addPanel } from './sections/panel.ts';
import { addPeople } from './sections/people.ts';
import { addTable } from './sections/table.ts';
import { addTold } from './sections/told.ts';
import { addWarning } from './sections/warning.ts';
import { addHeading, keepTogether, type Sheet } from './sheet.ts';

/**
 * Lays out the paper of a no: what it costs, what danger there is, what was found and offered, and
 * how to come back to it.
 */
export function planDecline(paper: DeclinePaper, options: PlanOptions): PagePlan {
  const words = declineWords[paper.language];
  const answer = { paper, words, answeredText: paper.declinedText };
  return planAnswer(answer, options, (sheet, root) => addNo(sheet, root, paper));
}

function addNo(sheet: Sheet<DeclineWords>, root: Tag, paper: DeclinePaper): void {
  const { words } = sheet;
  addOwed(sheet, root, paper);
  addWarning(sheet, root, paper.dangerWarned);
  addTold(sheet, root, words.howLeft, [paper.conditionLeft || words.leftUnknown]);
  addPeople(sheet, root, { label: words.preparedFor, person: paper.customer, site: paper.site });
  addEquipment(sheet, root, paper.systems);
  addFindings(sheet, root, paper.findings);
  addOffered(sheet, root, paper);
  addAnswerFacts(sheet, root, {
    name: paper.declinedByName,
    momentText: paper.declinedText,
    given: paper.given,
    more: [[words.reason, paper.reason]],
  });
  addVisitCost(sheet, root, paper);
  addTold(sheet, root, words.comeBack, [words.comeBackHow(paper.company.phone, paper.quoteNumber)]);
  addCautions(sheet, root, [...paper.cautions, words.localCodes]);
}

/** A no to a change order leaves what was agreed; any other is owed the visit. */
function addOwed(sheet: Sheet<DeclineWords>, root: Tag, paper: DeclinePaper): void {
  const { words } = sheet;
  const { changes, decline } = paper;
  if (changes !== undefined) {
    addPanel(sheet, root, { lead: words.nothingAdded(changedQuote(changes)), rows: [] });
    return;
  }
  addPanel(sheet, root, {
    lead: words.lead,
    rows: [
      {
        label: decline.totalCents === 0 ? words.nothingOwed : words.owed,
        amount: formatCents(decline.totalCents),
        weight: 'strong',
      },
    ],
  });
}

function addOffered(sheet: Sheet<DeclineWords>, root: Tag, { offered }: DeclinePaper): void {
  const { words } = sheet;
  const section = tagUnder(root, 'Sect');
  const firstRow = sheet.rows.length;
  addHeading(sheet, section, words.offered);
  addTable(sheet, section, {
    columns: [words.offer, words.withTax],
    body: [
      {
        heading: '',
        lines: offered.map(({ letter, title, totalCents }) => ({
          description: offered.length > 1 ? words.option(letter, title) : title,
          detail: '',
          cells: [formatCents(totalCents)],
        })),
      },
    ],
    totals: [],
  });
  keepTogether(sheet, firstRow, OFFERED_HEIGHT_MAX_PT);
}

const OFFERED_HEIGHT_MAX_PT = 300;

/** Told where the amount is made of several. */
function addVisitCost(sheet: Sheet<DeclineWords>, root: Tag, { decline }: DeclinePaper): void {
  if (decline.amounts.length < 2) return;
  const { words } = sheet;
  const parts = decline.amounts.map(({ label, amountCents }) => ({
    label,
    amount: formatCents(amountCents),
  }));
  addTold(sheet, root, words.visitCost, [words.sum(parts, formatCents(decline.totalCents))]);
}
