import { layText } from '../lay-text.ts';
import { type Tag, tagUnder } from '../page-plan.ts';
import type { PaperAddress, PaperCompany } from '../paper-parts.ts';
import { COLOR, PAGE, TYPE } from '../paper-style.ts';
import { addParagraph, addRow, hairline, type Sheet, stack } from '../sheet.ts';

/** What a paper is called, and the numbers and days that tell it from others. */
export interface PaperTitle {
  company: PaperCompany;
  title: string;
  facts: readonly string[];
}

/** The company's name set well, beside it how to reach it and who licenses it; then the title. */
export function addLetterhead(
  sheet: Sheet,
  root: Tag,
  { company, title, facts }: PaperTitle,
): void {
  const section = tagUnder(root, 'Sect');
  const name = layText(
    company.name,
    TYPE.letterhead,
    { xPt: PAGE.leftPt, topPt: 0, widthPt: NAME_WIDTH_PT },
    sheet.measure,
  );
  const nameCell = { tag: tagUnder(section, 'P'), inks: name.inks };
  const contact = stack(
    sheet,
    section,
    [
      { text: addressLine(company.address), style: TYPE.small },
      { text: `${company.phone} · ${company.email}`, style: TYPE.small },
      { text: sheet.words.license(company.licenseNumber), style: TYPE.label },
      { text: company.regulatorLine, style: TYPE.small },
    ],
    {
      xPt: PAGE.leftPt + NAME_WIDTH_PT + GAP_PT,
      topPt: 3,
      widthPt: PAGE.contentWidthPt - NAME_WIDTH_PT - GAP_PT,
      align: 'right',
    },
  );
  const heightPt = Math.max(name.heightPt, contact.heightPt + 3) + 10;
  addRow(sheet, {
    heightPt,
    cells: [nameCell, ...contact.cells],
    decoration: [hairline(heightPt, COLOR.accent, 1.2)],
  });
  addTitle(sheet, section, title, facts);
}

/** 'Street, City, Region 00000' on one line. */
export function addressLine({ street, city, region, postalCode }: PaperAddress): string {
  return `${street}, ${city}, ${region} ${postalCode}`;
}

const NAME_WIDTH_PT = 230;
const GAP_PT = 20;

function addTitle(sheet: Sheet, section: Tag, title: string, facts: readonly string[]): void {
  const place = { xPt: PAGE.leftPt, topPt: 0, widthPt: PAGE.contentWidthPt };
  const { inks, heightPt } = layText(title, TYPE.title, place, sheet.measure);
  addRow(sheet, {
    heightPt,
    spaceAbovePt: 12,
    cells: [{ tag: tagUnder(section, 'H1'), inks }],
  });
  const style = { ...TYPE.body, color: COLOR.soft };
  addParagraph(sheet, section, facts.join('  ·  '), style, { spaceAbovePt: 2 });
}
