import { layText } from '../lay-text.ts';
import { type Tag, tagUnder } from '../page-plan.ts';
import { PAGE, TYPE } from '../paper-style.ts';
import type { PaperAddress, PaperFact, PaperSystem, QuotePaper } from '../quote-paper.ts';
import { addParagraph, addRow, hairline, type Sheet, stack } from '../sheet.ts';

/** For whom the quote is, where the work would be done, and on what. */
export function addPeopleAndEquipment(sheet: Sheet, root: Tag, paper: QuotePaper): void {
  const section = tagUnder(root, 'Sect');
  addPeople(sheet, section, paper);
  if (paper.systems.length === 0) return;
  addParagraph(sheet, section, sheet.words.equipment, TYPE.label, {
    spaceAbovePt: 10,
    keepWithNext: true,
  });
  for (const system of paper.systems) addSystem(sheet, section, system);
}

const COLUMN_WIDTH_PT = PAGE.contentWidthPt / 2 - 12;
const SECOND_COLUMN_PT = PAGE.leftPt + PAGE.contentWidthPt / 2;
const SYSTEM_NAME_WIDTH_PT = 168;

function addPeople(sheet: Sheet, section: Tag, { customer, site }: QuotePaper): void {
  const { words } = sheet;
  const preparedFor = stack(
    sheet,
    tagUnder(section, 'Div'),
    [
      { text: words.preparedFor, style: TYPE.label },
      { text: customer.name, style: TYPE.strong, spaceAbovePt: 1 },
      ...addressTexts(customer.address),
    ],
    { xPt: PAGE.leftPt, topPt: 0, widthPt: COLUMN_WIDTH_PT },
  );
  const service = stack(
    sheet,
    tagUnder(section, 'Div'),
    [
      { text: words.serviceAddress, style: TYPE.label },
      { text: site.address.street, style: TYPE.strong, spaceAbovePt: 1 },
      { text: cityLine(site.address), style: TYPE.body },
      { text: words.occupant(site.occupant), style: TYPE.body },
    ],
    { xPt: SECOND_COLUMN_PT, topPt: 0, widthPt: COLUMN_WIDTH_PT },
  );
  addRow(sheet, {
    heightPt: Math.max(preparedFor.heightPt, service.heightPt),
    spaceAbovePt: 16,
    cells: [...preparedFor.cells, ...service.cells],
  });
}

function addressTexts(address: PaperAddress | undefined) {
  if (address === undefined) return [];
  return [
    { text: address.street, style: TYPE.body },
    { text: cityLine(address), style: TYPE.body },
  ];
}

function cityLine({ city, region, postalCode }: PaperAddress): string {
  return `${city}, ${region} ${postalCode}`;
}

function addSystem(sheet: Sheet, section: Tag, system: PaperSystem): void {
  const block = tagUnder(section, 'Div');
  const name = stack(
    sheet,
    block,
    [
      { text: system.name, style: TYPE.strong },
      { text: system.model ?? '', style: TYPE.small },
    ],
    { xPt: PAGE.leftPt, topPt: 5, widthPt: SYSTEM_NAME_WIDTH_PT },
  );
  const facts = system.nameplate.map(unbroken).join('; ');
  const nameplate = layText(
    facts,
    TYPE.small,
    {
      xPt: PAGE.leftPt + SYSTEM_NAME_WIDTH_PT + 14,
      topPt: 6,
      widthPt: PAGE.contentWidthPt - SYSTEM_NAME_WIDTH_PT - 14,
    },
    sheet.measure,
  );
  const nameplateCells = facts === '' ? [] : [{ tag: tagUnder(block, 'P'), inks: nameplate.inks }];
  addRow(sheet, {
    heightPt: Math.max(name.heightPt, nameplate.heightPt) + 10,
    spaceAbovePt: 2,
    cells: [...name.cells, ...nameplateCells],
    decoration: [hairline(0)],
  });
}

/** A fact is never broken over two lines: its spaces hold its words together. */
function unbroken({ label, text }: PaperFact): string {
  return `${label} ${text}`.replaceAll(' ', '\u00A0');
}
