import { finishPlan } from './finish-plan.ts';
import { type PagePlan, type Tag, tag, tagUnder } from './page-plan.ts';
import type { PlanOptions } from './plan-quote.ts';
import { addCautions } from './sections/cautions.ts';
import { addEquipment } from './sections/equipment.ts';
import { addFacts } from './sections/facts.ts';
import { addFingerprint } from './sections/fingerprint.ts';
import { addLetterhead } from './sections/letterhead.ts';
import { addPanel } from './sections/panel.ts';
import { addPeople } from './sections/people.ts';
import { addTable } from './sections/table.ts';
import { addTold } from './sections/told.ts';
import { addWarning } from './sections/warning.ts';
import { addWorks } from './sections/works.ts';
import { addHeading, type Sheet } from './sheet.ts';
import type { PaperRefrigerantMove, PaperVisit, WorkRecordPaper } from './work-record-paper.ts';
import { type WorkRecordWords, workRecordWords } from './work-record-words.ts';

/**
 * Lays out the record of the work: whether the complaint is gone, what was found and done with the
 * readings before and after, and how the system was left.
 */
export function planWorkRecord(
  paper: WorkRecordPaper,
  { measure, pageUrl }: PlanOptions,
): PagePlan {
  const words = workRecordWords[paper.language];
  const { company, ticketNumber, sequence, measuredAfter = [], noReadingsWhy } = paper;
  const root = tag('Document');
  const sheet: Sheet<WorkRecordWords> = { rows: [], words, measure };
  const numbered = words.ticket(ticketNumber);
  addLetterhead(sheet, root, {
    company,
    title: words.title,
    facts: [
      numbered,
      words.closed(paper.issuedText),
      ...(sequence > 1 ? [words.again(sequence)] : []),
    ],
  });
  addPanel(sheet, root, {
    lead: words.complaintGone[paper.complaintGone],
    note: words.calledAbout(paper.complaint),
    rows: [],
  });
  addWarning(sheet, root, paper.dangerWarned);
  addPeople(sheet, root, { label: words.preparedFor, person: paper.customer, site: paper.site });
  addEquipment(sheet, root, paper.systems);
  addVisits(sheet, root, paper.visits);
  addWorks(sheet, root, paper.works);
  addRefrigerant(sheet, root, paper.refrigerantMoves);
  addTold(sheet, root, words.howLeft, [
    paper.conditionLeft,
    measuredAfter.length > 0 ? words.measuredAfter(measuredAfter.join('; ')) : '',
    noReadingsWhy ? words.noReadings(noReadingsWhy) : '',
  ]);
  addCautions(sheet, root, [...paper.cautions, sheet.words.localCodes]);
  addFingerprint(sheet, root, { contentHash: paper.contentHash, pageUrl });
  return finishPlan(sheet, root, {
    title: words.fileTitle(ticketNumber, company.name),
    subject: words.title,
    footer: `${words.title}: ${numbered}  ·  ${company.name}`,
    createdAt: paper.issuedAt,
  });
}

function addVisits(sheet: Sheet<WorkRecordWords>, root: Tag, visits: readonly PaperVisit[]): void {
  if (visits.length === 0) return;
  const section = tagUnder(root, 'Sect');
  addHeading(sheet, section, sheet.words.visits);
  addFacts(
    sheet,
    section,
    visits.map(({ dayText, technician, certificate }) => [
      dayText,
      certificate ? `${technician}  ·  ${certificate}` : technician,
    ]),
  );
}

function addRefrigerant(
  sheet: Sheet<WorkRecordWords>,
  root: Tag,
  moves: readonly PaperRefrigerantMove[],
): void {
  if (moves.length === 0) return;
  const { words } = sheet;
  const section = tagUnder(root, 'Sect');
  addHeading(sheet, section, words.refrigerant);
  addTable(sheet, section, {
    columns: [words.refrigerantColumns.move, words.refrigerantColumns.weight],
    body: [
      {
        heading: '',
        lines: moves.map((move) => ({
          description: words.moved[move.direction](move.refrigerant, move.system),
          detail: words.movedDetail(move.dayText, move.cylinder, move.certificate),
          cells: [move.weightText],
        })),
      },
    ],
    totals: [],
  });
}
