import { type Tag, tagUnder } from '../page-plan.ts';
import type { PaperAddress, PaperSite } from '../paper-parts.ts';
import { PAGE, TYPE } from '../paper-style.ts';
import { addRow, type Sheet, stack } from '../sheet.ts';

/** Whom a paper is for, and where it is about; some papers are about no place. */
export interface PaperPeople {
  label: string;
  person: { name: string; address?: PaperAddress | undefined };
  site?: PaperSite | undefined;
}

/** The person on the left, the place of the work on the right. */
export function addPeople(sheet: Sheet, root: Tag, { label, person, site }: PaperPeople): void {
  const section = tagUnder(root, 'Sect');
  const left = stack(
    sheet,
    tagUnder(section, 'Div'),
    [
      { text: label, style: TYPE.label },
      { text: person.name, style: TYPE.strong, spaceAbovePt: 1 },
      ...addressTexts(person.address),
    ],
    { xPt: PAGE.leftPt, topPt: 0, widthPt: COLUMN_WIDTH_PT },
  );
  const right = site === undefined ? NOTHING : siteStack(sheet, tagUnder(section, 'Div'), site);
  addRow(sheet, {
    heightPt: Math.max(left.heightPt, right.heightPt),
    spaceAbovePt: 16,
    cells: [...left.cells, ...right.cells],
  });
}

const NOTHING = { cells: [], heightPt: 0 };
const COLUMN_WIDTH_PT = PAGE.contentWidthPt / 2 - 12;
const SECOND_COLUMN_PT = PAGE.leftPt + PAGE.contentWidthPt / 2;

function siteStack(sheet: Sheet, parent: Tag, site: PaperSite) {
  return stack(
    sheet,
    parent,
    [
      { text: sheet.words.serviceAddress, style: TYPE.label },
      { text: site.address.street, style: TYPE.strong, spaceAbovePt: 1 },
      { text: cityLine(site.address), style: TYPE.body },
      { text: sheet.words.occupant(site.occupant), style: TYPE.body },
    ],
    { xPt: SECOND_COLUMN_PT, topPt: 0, widthPt: COLUMN_WIDTH_PT },
  );
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
