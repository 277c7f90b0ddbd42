import { type CleanText, cleanCompany, LENGTH } from '../clean-parts.ts';
import { finishPlan } from '../finish-plan.ts';
import type { Ink, MeasureText, PagePlan, Tag } from '../page-plan.ts';
import { tag, tagUnder } from '../page-plan.ts';
import { PAGE, TYPE } from '../paper-style.ts';
import { paperWords } from '../paper-words.ts';
import type { Plot } from '../plots/plot.ts';
import { addLetterhead } from '../sections/letterhead.ts';
import { addTable } from '../sections/table.ts';
import { addHeading, addParagraph, addRow, keepTogether, type Sheet } from '../sheet.ts';
import { addGlanceColumns } from './glance-columns.ts';
import type { Report, ReportSection, ReportTable } from './report.ts';

/** Lays out a report: the head, what matters most, then section by section. Pure. */
export function planReport(
  report: Report,
  { measure, clean }: { measure: MeasureText; clean: CleanText },
): PagePlan {
  const company = cleanCompany(report.company, clean);
  const title = clean(report.title, LENGTH.title);
  const facts = report.facts.map((fact) => clean(fact, LENGTH.line));
  const root = tag('Document');
  const sheet: Sheet = { rows: [], words: paperWords.en, measure };
  addLetterhead(sheet, root, { company, title, facts });
  addParagraph(sheet, root, clean(report.lead, LENGTH.legalParagraph), TYPE.lead, {
    spaceAbovePt: 14,
  });
  if (report.glance !== undefined) addGlanceColumns(sheet, root, report.glance, clean);
  for (const section of report.sections) addSection(sheet, root, section, clean);
  return finishPlan(sheet, root, {
    title: `${title}, ${company.name}`,
    subject: title,
    footer: [title, ...facts].join('  ·  '),
    createdAt: report.createdAt,
  });
}

function addSection(sheet: Sheet, root: Tag, content: ReportSection, clean: CleanText): void {
  const section = tagUnder(root, 'Sect');
  addHeading(sheet, section, clean(content.heading, LENGTH.title));
  for (const text of content.texts) {
    addParagraph(sheet, section, clean(text, LENGTH.legalParagraph), TYPE.body, {
      spaceAbovePt: 3,
      keepWithNext: content.plot !== undefined || content.table !== undefined,
    });
  }
  if (content.plot !== undefined) addPlot(sheet, section, content.plot, clean);
  if (content.table !== undefined) addReportTable(sheet, section, content.table, clean);
}

/** A plot is one piece: it stands whole on one page. */
function addPlot(sheet: Sheet, section: Tag, plot: Plot, clean: CleanText): void {
  const { widthPt, heightPt } = plot;
  const figureBox = { xPt: PAGE.leftPt, yPt: 0, widthPt, heightPt };
  const alt = clean(`${plot.title}. ${plot.description}`, LENGTH.legalParagraph);
  const figure = tagUnder(section, 'Figure', { alt });
  addRow(sheet, {
    heightPt,
    spaceAbovePt: 8,
    cells: [{ tag: figure, inks: plot.inks.map((ink) => placed(ink, clean)), figureBox }],
  });
}

/** From the plot's own corner to the edge of the page's text. */
function placed(ink: Plot['inks'][number], clean: CleanText): Ink {
  const right = ([x, y]: readonly [number, number]) => [x + PAGE.leftPt, y] as const;
  switch (ink.kind) {
    case 'text':
      // The space keeps neighboring words apart when the text is taken from the page.
      return { ...ink, text: `${clean(ink.text, LENGTH.line)} `, xPt: ink.xPt + PAGE.leftPt };
    case 'rectangle':
      return { ...ink, xPt: ink.xPt + PAGE.leftPt };
    case 'line':
      return { ...ink, fromPt: right(ink.fromPt), toPt: right(ink.toPt) };
    case 'circle':
      return { ...ink, centerPt: right(ink.centerPt) };
    case 'polygon':
      return { ...ink, pointsPt: ink.pointsPt.map(right) };
  }
}

function addReportTable(
  sheet: Sheet,
  section: Tag,
  { columns, rows }: ReportTable,
  clean: CleanText,
): void {
  const [first, ...others] = columns;
  const firstRow = sheet.rows.length;
  addTable(sheet, section, {
    columns: [clean(first, LENGTH.line), ...others.map((text) => clean(text, LENGTH.line))],
    body: [
      {
        heading: '',
        lines: rows.map(({ name, detail = '', cells }) => ({
          description: clean(name, LENGTH.line),
          detail: detail === '' ? '' : clean(detail, LENGTH.sentence),
          cells: cells.map((text) => unbroken(clean(text, LENGTH.line))),
        })),
      },
    ],
    totals: [],
  });
  // Nothing is added up below it that its last lines would have to stay with.
  for (const row of sheet.rows.slice(firstRow + 1)) row.keepWithNext = false;
  keepTogether(sheet, firstRow, TABLE_KEPT_WHOLE_PT);
}

/** A short figure with its unit stays on one line, `12% of 40`; what is longer may be broken. */
function unbroken(text: string): string {
  return text.length <= UNBROKEN_MAX ? text.replaceAll(' ', '\u00a0') : text;
}

const UNBROKEN_MAX = 20;

/** A third of a page: what is longer may run over. */
const TABLE_KEPT_WHOLE_PT = 230;
