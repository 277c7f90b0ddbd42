import { fitText } from './fit-text.ts';
import { layLine } from './lay-text.ts';
import type { Ink, PagePlan, Tag } from './page-plan.ts';
import { PAGE, TYPE } from './paper-style.ts';
import { placeRows } from './place-rows.ts';
import type { Sheet } from './sheet.ts';
import { tightenRows } from './tighten-rows.ts';

/** What a file says of itself, and what stands at the foot of each of its pages. */
export interface PaperFile {
  title: string;
  subject: string;
  footer: string;
  /** RFC 3339. */
  createdAt: string;
}

/** Sets a written paper onto pages and numbers them. */
export function finishPlan(sheet: Sheet, root: Tag, file: PaperFile): PagePlan {
  const pages = placeRows(tightenRows(sheet.rows));
  pages.forEach((page, index) => {
    page.footer = footerInks(sheet, file.footer, index + 1, pages.length);
  });
  const { title, subject, createdAt } = file;
  return { title, subject, language: sheet.words.languageTag, createdAt, pages, root };
}

function footerInks(
  { words, measure }: Sheet,
  footer: string,
  pageNumber: number,
  pageCount: number,
): Ink[] {
  const place = { xPt: PAGE.leftPt, topPt: PAGE.footerTopPt, widthPt: PAGE.contentWidthPt };
  const page = words.page(pageNumber, pageCount);
  const roomPt = PAGE.contentWidthPt - measure(page, TYPE.tick) - 20;
  return [
    layLine(`${fitText(footer, TYPE.tick, roomPt, measure)} `, TYPE.tick, place, measure),
    layLine(page, TYPE.tick, { ...place, align: 'right' }, measure),
  ];
}
